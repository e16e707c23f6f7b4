// The key of a pair: the better exhibit, the clause by which it is, and other clauses accepted.
"use strict";

import { Pick } from "../shared/js/pick.js";
import { Keying } from "./keying.js";
import "./looking.js";

const HALF = 0.5;
const keying = new Keying({ take: (other) => take(other) });
const { page, known } = keying;
const find = (selector) => keying.find(selector);
const clauses = new Map(known.clauses.map((clause) => [clause.id, clause]));
const sides = [...page.querySelectorAll("[name=exhibit]")];
const note = find("[data-note]");
const input = find("#pair-clause");
const alsoPick = find("[data-also-pick]"); // a panellist names one clause
let content = known.content;

function take(other) {
  content = other;
  note.value = content.note;
  show();
}

function show() {
  for (const side of sides) side.checked = Number(side.value) === content.exhibit;
  const clause = clauses.get(content.clause);
  input.value = clause ? clause.clause : "";
  find("[data-clause]").hidden = !clause;
  if (clause) {
    find(".clause-number").textContent = clause.clause;
    find("[data-clause-text]").innerHTML = clause.text;
  }
  find("[data-also]")?.replaceChildren(...content.also.map(accepted));
  if (alsoPick) alsoPick.hidden = content.also.length >= known.most;
  keying.showMissing(["exhibit", "clause"].filter((part) => content[part] === null).map((part) => keying.say(`no_${part}`)));
}

function accepted(row) {
  const item = document.getElementById("also-row").content.firstElementChild.cloneNode(true);
  const name = clauses.get(row.clause)?.clause ?? "";
  const [credit, remove] = [item.querySelector("[data-credit]"), item.querySelector("[data-unaccept]")];
  item.querySelector("[data-name]").textContent = name;
  credit.value = row.credit;
  credit.setAttribute("aria-label", keying.say("credit", { name }));
  credit.addEventListener("change", () => {
    const given = Number(credit.value);
    const good = credit.value !== "" && given >= 0 && given <= 1;
    credit.setAttribute("aria-invalid", String(!good));
    if (!good) return;
    row.credit = given;
    keying.keep(content);
  });
  remove.setAttribute("aria-label", keying.say("unaccept", { name }));
  remove.addEventListener("click", () => {
    content.also = content.also.filter((other) => other !== row);
    changed();
    find("#pair-also").focus();
  });
  return item;
}

function accept(id) {
  find("#pair-also").value = "";
  if (id === content.clause || content.also.some((row) => row.clause === id)) return;
  content.also.push({ clause: id, credit: HALF });
  changed();
  find("[data-also] li:last-child input").focus();
}

function changed() {
  keying.keep(content);
  show();
}

for (const side of sides) {
  side.addEventListener("change", () => {
    content.exhibit = Number(side.value);
    changed();
  });
}
new Pick(find("[data-clause-pick]"), known.clauses, {
  onPick: ({ id }) => {
    content.clause = id;
    content.also = content.also.filter((row) => row.clause !== id);
    changed();
  },
});
if (alsoPick) new Pick(alsoPick, known.clauses, { onPick: ({ id }) => accept(id) });
input.addEventListener("focus", () => input.select());
input.addEventListener("blur", () => setTimeout(show, 200));
note.addEventListener("input", () => {
  content.note = note.value;
  keying.keep(content);
});

take(content);
keying.begin();
