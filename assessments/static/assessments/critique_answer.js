// Writing a critique: a text for each part, kept as one writes, with what is left of its length.
"use strict";

import { Answering } from "./answering.js";

const FEW = 200; // characters left from which the counter is worth a look

const boxes = [...document.querySelectorAll("[data-part]")];
const answering = new Answering({ take: fill, isBlank: () => boxes.every((box) => !box.value.trim()) });

function fill(content) {
  for (const box of boxes) {
    box.value = content.parts?.[box.dataset.part] ?? "";
    count(box);
  }
}

function count(box) {
  const left = box.maxLength - box.value.length;
  const said = document.getElementById(`left-${box.dataset.part}`);
  said.textContent = answering.say("left", { n: left, most: box.maxLength });
  said.classList.toggle("critique-few", left < FEW);
}

for (const box of boxes) {
  box.addEventListener("input", () => {
    count(box);
    answering.keep({ parts: Object.fromEntries(boxes.map((each) => [each.dataset.part, each.value])) });
  });
}
fill(answering.ask.content);
answering.begin();
