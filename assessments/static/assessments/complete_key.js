// The key of a clause with gaps: what is accepted beside its own words.
"use strict";

import { Keying } from "./keying.js";

const HALF = 0.5;
const keying = new Keying({ take: (other) => take(other) });
const { known } = keying;
const list = keying.find("[data-gaps]");
const note = keying.find("[data-note]");
let content = known.content;

const copy = (name) => document.getElementById(name).content.firstElementChild.cloneNode(true);
const complete = (row) => row.words.trim() !== "" && row.credit >= 0 && row.credit <= 1;

function take(other) {
  content = other;
  note.value = content.note;
  show();
}

function show() {
  list.replaceChildren(...known.gaps.map(gapRow));
  keying.showMissing([]);
}

function gapRow(words, index) {
  const item = copy("gap-row");
  const accept = item.querySelector("[data-accept]");
  item.querySelector("[data-number]").textContent = index + 1;
  item.querySelector("[data-words]").textContent = words;
  item.querySelector("[data-also]").replaceChildren(...content.also[index].map((row) => alsoRow(row, words, index)));
  accept.hidden = content.also[index].length >= known.most;
  accept.setAttribute("aria-label", keying.say("accept", { words }));
  accept.addEventListener("click", () => {
    content.also[index].push({ words: "", credit: HALF });
    show();
    list.children[index].querySelector("[data-also] li:last-child input").focus();
  });
  return item;
}

function alsoRow(row, words, index) {
  const item = copy("also-row");
  const [text, credit, remove] = ["[data-also-words]", "[data-credit]", "[data-unaccept]"].map((name) => item.querySelector(name));
  text.value = row.words;
  credit.value = row.credit;
  text.setAttribute("aria-label", keying.say("words", { words }));
  credit.setAttribute("aria-label", keying.say("credit"));
  text.addEventListener("input", () => {
    row.words = text.value;
    changed();
  });
  credit.addEventListener("change", () => {
    row.credit = credit.value === "" ? -1 : Number(credit.value);
    credit.setAttribute("aria-invalid", String(!complete({ ...row, words: "." })));
    changed();
  });
  remove.setAttribute("aria-label", keying.say("unaccept", { words }));
  remove.addEventListener("click", () => {
    content.also[index] = content.also[index].filter((other) => other !== row);
    changed();
    show();
    list.children[index].querySelector("[data-accept]").focus();
  });
  return item;
}

// A row that is being written is sent once it is whole.
function changed() {
  keying.keep({ ...content, also: content.also.map((rows) => rows.filter(complete)) });
}

note.addEventListener("input", () => {
  content.note = note.value;
  changed();
});

take(content);
keying.begin();
