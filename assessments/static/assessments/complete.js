// The words left out of a clause.
"use strict";

import { Answering } from "./answering.js";

const gaps = [...document.querySelectorAll("[data-gap]")];
const given = () => gaps.map((gap) => gap.value);
const answering = new Answering({ take: (content) => take(content), isBlank: () => !given().some((words) => words.trim()) });

function take(content) {
  gaps.forEach((gap, index) => {
    gap.value = content.gaps[index] ?? "";
  });
}

gaps.forEach((gap, index) => {
  gap.addEventListener("input", () => answering.keep({ gaps: given() }));
  gap.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" || gap.matches("select")) return;
    event.preventDefault();
    (gaps[index + 1] ?? answering.find("[data-hand-in]")).focus();
  });
});

take(answering.ask.content);
answering.begin();
