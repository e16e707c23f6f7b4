// The opened entry of a key: its fault, clause, severity, accepted names and regions.
"use strict";

import { Pick } from "../shared/js/pick.js";

const HALF = 0.5;

export const letterOf = (index) => String.fromCharCode(65 + index);

export function missingOf(entry) {
  const given = {
    fault: entry.fault !== null,
    clause: entry.clause !== null,
    level: entry.level !== null,
    region: entry.whole_dog || entry.regions.length > 0,
  };
  return Object.keys(given).filter((part) => !given[part]);
}

// `to`: { known, say, wrong, changed(kind), kept(), remove(), another() }.
export function sheetOf(entry, index, to) {
  const item = document.getElementById("entry-sheet").content.firstElementChild.cloneNode(true);
  const find = (selector) => item.querySelector(selector);
  const sheet = { item, find, entry, index, ...to };
  const fault = to.known.faultsById.get(entry.fault);
  find("[data-letter]").textContent = letterOf(index);
  find("[data-title]").textContent = fault?.name ?? to.say("unnamed");
  find("[data-remove]").textContent = to.say("remove", { letter: letterOf(index) });
  find("[data-remove]").addEventListener("click", to.remove);
  find("[data-wrong]").hidden = !to.wrong;
  find("[data-wrong]").textContent = (to.wrong ?? []).join(" ");
  faultField(sheet, fault);
  clauseField(sheet);
  ladder(sheet);
  if (find("[data-also]")) acceptedNames(sheet);
  whereabouts(sheet);
  return item;
}

function faultField({ find, entry, known, changed }, fault) {
  const input = find("#entry-fault");
  input.value = fault?.name ?? "";
  input.addEventListener("focus", () => input.select());
  input.addEventListener("change", () => {
    if (input.value.trim() || entry.fault === null) return;
    entry.fault = null;
    changed();
  });
  input.addEventListener("blur", () => setTimeout(() => (input.value = fault?.name ?? ""), 200));
  new Pick(find("[data-fault-pick]"), known.faults, {
    onPick: (picked) => {
      const before = known.faultsById.get(entry.fault);
      if (entry.clause === null || entry.clause === before?.clause_id) entry.clause = picked.clause_id;
      if (entry.level === null || entry.level === before?.level) entry.level = picked.level;
      entry.fault = picked.id;
      entry.also = entry.also.filter((other) => other.fault !== picked.id);
      changed(null, `level-${entry.level ?? 0}`);
    },
  });
}

function clauseField({ find, entry, known, changed }) {
  const clause = known.clausesById.get(entry.clause);
  const shown = find("[data-clause]");
  shown.hidden = !clause;
  if (clause) {
    shown.querySelector(".clause-number").textContent = clause.number;
    find("[data-clause-text]").innerHTML = clause.text; // made safe by the server
  }
  const [field, open, input] = [find("[data-clause-field]"), find("[data-other-clause]"), find("#entry-clause")];
  field.hidden = Boolean(clause);
  open.hidden = !clause;
  open.addEventListener("click", () => {
    field.hidden = false;
    open.hidden = true;
    input.focus();
  });
  const choices = known.clauses.map(({ id, number, plain }) => ({ id, name: plain, clause: number }));
  new Pick(find("[data-clause-pick]"), choices, {
    label: (choice) => choice.name,
    onPick: (picked) => {
      entry.clause = picked.id;
      changed(null, "clause-open");
    },
  });
}

function ladder({ find, item, index, entry, known, say, kept }) {
  const clause = known.clausesById.get(entry.clause);
  const warning = find("[data-differs]");
  const warn = () => {
    if (!warning) return;
    const differs = clause && clause.level !== null && entry.level !== null && clause.level !== entry.level;
    warning.hidden = !differs;
    warning.textContent = differs ? say("differs", { level: known.levels[entry.level], reads: known.levels[clause.level] }) : "";
  };
  find("[data-reading]").textContent = clause?.reading ?? "";
  for (const input of item.querySelectorAll(".ladder input")) {
    input.name = `level-${index}`;
    input.dataset.keep = `level-${input.value}`;
    input.checked = Number(input.value) === entry.level;
    input.addEventListener("change", () => {
      entry.level = Number(input.value);
      warn();
      kept();
    });
  }
  warn();
}

function acceptedNames({ find, entry, known, say, changed, kept }) {
  if (!find("[data-also]")) return; // the kind accepts no other name
  find("[data-also]").replaceChildren(...entry.also.map((other) => acceptedName(other, { entry, known, say, changed, kept })));
  find("[data-also-pick]").hidden = entry.also.length >= known.most.also;
  const taken = new Set([entry.fault, ...entry.also.map((other) => other.fault)]);
  new Pick(find("[data-also-pick]"), known.faults.filter(({ id }) => !taken.has(id)), {
    onPick: (picked) => {
      entry.also.push({ fault: picked.id, credit: HALF });
      changed(null, `credit-${picked.id}`);
    },
  });
}

function acceptedName(other, { entry, known, say, changed, kept }) {
  const row = document.getElementById("also-row").content.firstElementChild.cloneNode(true);
  const name = known.faultsById.get(other.fault)?.name ?? "";
  const [credit, remove] = [row.querySelector("[data-credit]"), row.querySelector("[data-unaccept]")];
  row.querySelector("[data-name]").textContent = name;
  credit.value = other.credit;
  credit.dataset.keep = `credit-${other.fault}`;
  credit.setAttribute("aria-label", say("credit", { name }));
  credit.addEventListener("input", () => {
    const value = credit.valueAsNumber;
    credit.setAttribute("aria-invalid", String(!(value >= 0 && value <= 1)));
    if (!(value >= 0 && value <= 1)) return;
    other.credit = value;
    kept();
  });
  credit.addEventListener("blur", () => {
    credit.value = other.credit;
    credit.removeAttribute("aria-invalid");
  });
  remove.setAttribute("aria-label", say("unaccept", { name }));
  remove.addEventListener("click", () => {
    entry.also.splice(entry.also.indexOf(other), 1);
    changed();
  });
  return row;
}

function whereabouts({ find, entry, index, say, changed, another }) {
  const count = entry.regions.length;
  find("[data-where]").textContent = entry.whole_dog ? "" : count === 1 ? say("one_region") : say("many_regions", { n: count });
  const more = find("[data-another]");
  more.textContent = say(count ? "another_region" : "first_region", { letter: letterOf(index) });
  more.addEventListener("click", another);
  const whole = find("[data-whole-dog]");
  whole.checked = entry.whole_dog;
  whole.addEventListener("change", () => {
    entry.whole_dog = whole.checked;
    if (whole.checked) entry.regions = [];
    changed();
  });
}
