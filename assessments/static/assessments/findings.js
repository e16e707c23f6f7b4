// The faults found on one exhibit, named from the club's list; with a severity each where `levels` are given.
"use strict";

import { Pick } from "../shared/js/pick.js";

export class Findings {
  // `onChange` gets the rows, each { fault, level }.
  constructor(root, { faults, say, onChange, most = 20 }) {
    Object.assign(this, { root, say, onChange, most, rows: [], letter: "" });
    this.faults = new Map(faults.map((fault) => [fault.id, fault]));
    this.list = root.querySelector("[data-found]");
    this.input = root.querySelector("[data-fault-pick] input");
    new Pick(root.querySelector("[data-fault-pick]"), faults, { onPick: (fault) => this.add(fault) });
  }

  take(rows, letter) {
    this.rows = rows;
    this.letter = letter;
    this.show();
  }

  show() {
    this.list.replaceChildren(...this.rows.map((row) => this.item(row)));
  }

  item(row) {
    const item = document.getElementById("found-row").content.firstElementChild.cloneNode(true);
    const fault = this.faults.get(row.fault);
    const name = fault?.name ?? "";
    item.querySelector("[data-name]").textContent = name;
    item.querySelector("[data-clause]").textContent = fault?.clause ?? "";
    const level = item.querySelector("[data-level]");
    if (level) {
      level.value = row.level;
      level.setAttribute("aria-label", this.say("level", { name }));
      level.addEventListener("change", () => {
        row.level = Number(level.value);
        this.onChange(this.rows);
      });
    }
    const remove = item.querySelector("[data-remove]");
    remove.setAttribute("aria-label", this.say("remove", { name, letter: this.letter }));
    remove.addEventListener("click", () => {
      this.change(this.rows.filter((other) => other !== row));
      this.input.focus();
    });
    return item;
  }

  add(fault) {
    this.input.value = "";
    if (this.rows.length >= this.most || this.rows.some((row) => row.fault === fault.id)) return;
    this.change([...this.rows, { fault: fault.id, level: fault.level ?? 0 }]);
  }

  change(rows) {
    this.rows = rows;
    this.show();
    this.onChange(rows);
  }
}
