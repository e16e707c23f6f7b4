// The key of a choice: which options are right, and why.
"use strict";

import { Keying } from "./keying.js";
import "./looking.js";

const keying = new Keying({ take: (content) => take(content) });
const { page, known } = keying;
const rows = [...page.querySelectorAll("[data-option]")];
const note = keying.find("[data-note]");

const right = () => rows.filter((row) => row.querySelector("input").checked).map((row) => row.dataset.option);
const why = () => Object.fromEntries(rows.map((row) => [row.dataset.option, row.querySelector("[data-why]").value]).filter(([, words]) => words));

function take(content) {
  for (const row of rows) {
    row.querySelector("input").checked = content.right.includes(row.dataset.option);
    row.querySelector("[data-why]").value = content.why[row.dataset.option] ?? "";
  }
  note.value = content.note;
  show();
}

function show() {
  keying.showMissing(right().length ? [] : [keying.say("none")]);
}

function changed() {
  show();
  keying.keep({ right: right(), why: why(), note: note.value });
}

for (const field of [...page.querySelectorAll("[data-option] input, [data-why]"), note]) {
  field.addEventListener(field.matches("textarea") ? "input" : "change", changed);
}
take(known.content);
keying.begin();
