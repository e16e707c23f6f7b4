// The key of a critique: rubric, points expected and model answer, kept as one writes.
"use strict";

import { Keying } from "./keying.js";

const page = document.getElementById("key");
const texts = [...page.querySelectorAll("[data-at]")];
const weights = [...page.querySelectorAll("[data-weight]")];
const note = page.querySelector("[data-note]");
const keying = new Keying({ take: fill });

const levelsOf = (part) => [...page.querySelectorAll(`[data-level="${part}"]`)];

function fill(content) {
  for (const box of texts) {
    const [group, part] = box.dataset.at.split(".");
    box.value = content[group]?.[part] ?? "";
  }
  for (const box of weights) {
    const kept = content.rubric[box.dataset.weight];
    box.value = kept.weight ?? "";
    levelsOf(box.dataset.weight).forEach((level, place) => (level.value = kept.levels[place] ?? ""));
  }
  note.value = content.note ?? "";
  show();
}

function read() {
  const content = { rubric: {}, expected: {}, model: {}, note: note.value };
  for (const box of texts) {
    const [group, part] = box.dataset.at.split(".");
    content[group][part] = box.value;
  }
  for (const box of weights) {
    const levels = levelsOf(box.dataset.weight).map((level) => level.value);
    content.rubric[box.dataset.weight] = { weight: box.value === "" ? null : Number(box.value), levels };
  }
  return content;
}

function show() {
  const missing = [];
  for (const box of weights) {
    const part = box.dataset.label;
    if (!Number(box.value)) missing.push(keying.say("weight", { part }));
    if (levelsOf(box.dataset.weight).some((level) => !level.value.trim())) missing.push(keying.say("levels", { part }));
  }
  for (const box of texts.filter((each) => each.dataset.at.startsWith("model.") && !each.value.trim())) {
    missing.push(keying.say("model", { part: box.dataset.label }));
  }
  keying.showMissing(missing);
}

page.addEventListener("input", (event) => {
  if (!event.target.matches("[data-at], [data-weight], [data-level], [data-note]")) return;
  keying.keep(read());
  show();
});
fill(keying.known.content);
keying.begin();
