// Which of two exhibits is the better, and by which clause.
"use strict";

import { Pick } from "../shared/js/pick.js";
import { Answering } from "./answering.js";
import "./looking.js";

const answering = new Answering({ take: (other) => take(other), isBlank: () => content.exhibit === null });
const { page, ask } = answering;
const find = (selector) => answering.find(selector);
const clauses = new Map(ask.clauses.map((clause) => [clause.id, clause]));
const sides = [...page.querySelectorAll("[name=exhibit]")];
const input = find("#pair-clause");
let content = { ...ask.content };

function take(other) {
  content = { ...other };
  for (const side of sides) side.checked = Number(side.value) === content.exhibit;
  showClause();
}

function showClause() {
  const clause = clauses.get(content.clause);
  input.value = clause ? clause.clause : "";
  find("[data-clause]").hidden = !clause;
  find("[data-no-clause]").hidden = !clause;
  if (!clause) return;
  find(".clause-number").textContent = clause.clause;
  find("[data-clause-text]").innerHTML = clause.text;
}

function setClause(id) {
  content.clause = id;
  showClause();
  answering.keep(content);
}

for (const side of sides) {
  side.addEventListener("change", () => {
    content.exhibit = Number(side.value);
    answering.keep(content);
  });
}
new Pick(find("[data-clause-pick]"), ask.clauses, { onPick: (clause) => setClause(clause.id) });
input.addEventListener("focus", () => input.select());
input.addEventListener("change", () => {
  if (input.value.trim()) setTimeout(showClause, 200);
  else if (content.clause !== null) setClause(null);
});
find("[data-no-clause]").addEventListener("click", () => {
  setClause(null);
  input.focus();
});

take(ask.content);
answering.begin();
