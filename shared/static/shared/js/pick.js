// A field that narrows a list while one types: for choosing a fault from the club's list.
"use strict";

export class Pick {
  constructor(root, choices, { onPick, label = (choice) => choice.name, aside = (choice) => choice.clause ?? "" }) {
    this.input = root.querySelector("input");
    this.list = root.querySelector("[role=listbox]");
    this.list.tabIndex = -1; // arrows move in it, from the field
    Object.assign(this, { choices, onPick, label, aside, shown: [], at: -1 });
    this.input.addEventListener("input", () => this.open());
    this.input.addEventListener("focus", () => this.open());
    this.input.addEventListener("keydown", (event) => this.keyed(event));
    this.input.addEventListener("blur", () => setTimeout(() => document.activeElement !== this.input && this.close(), 150));
  }

  matching(typed) {
    const words = typed.toLowerCase().split(/\s+/).filter(Boolean);
    const hay = (choice) => [this.label(choice), choice.zone, choice.clause, ...(choice.other_names ?? [])].join(" ").toLowerCase();
    return this.choices.filter((choice) => words.every((word) => hay(choice).includes(word))).slice(0, 60);
  }

  open() {
    this.shown = this.matching(this.input.value);
    this.at = this.input.value && this.shown.length ? 0 : -1;
    this.list.replaceChildren(...this.shown.map((choice, index) => this.option(choice, index)));
    this.list.hidden = !this.shown.length;
    this.input.setAttribute("aria-expanded", String(!this.list.hidden));
    this.mark();
  }

  option(choice, index) {
    const row = document.createElement("li");
    row.id = `${this.list.id}-${index}`;
    row.setAttribute("role", "option");
    const name = document.createElement("span");
    name.textContent = this.label(choice);
    const aside = document.createElement("span");
    aside.textContent = this.aside(choice);
    row.append(name, aside);
    row.addEventListener("pointerdown", (event) => {
      event.preventDefault();
      this.pick(choice);
    });
    return row;
  }

  keyed(event) {
    if (event.key === "ArrowDown" || event.key === "ArrowUp") {
      if (this.list.hidden) this.open();
      this.at = Math.min(Math.max(this.at + (event.key === "ArrowDown" ? 1 : -1), 0), this.shown.length - 1);
      this.mark();
    } else if (event.key === "Enter" && !this.list.hidden && this.at >= 0) {
      this.pick(this.shown[this.at]);
    } else if (event.key === "Escape" && !this.list.hidden) {
      this.close();
    } else {
      return;
    }
    event.preventDefault();
  }

  mark() {
    [...this.list.children].forEach((row, index) => row.setAttribute("aria-selected", String(index === this.at)));
    const row = this.list.children[this.at];
    this.input.setAttribute("aria-activedescendant", row?.id ?? "");
    row?.scrollIntoView({ block: "nearest" });
  }

  pick(choice) {
    this.close();
    this.onPick(choice);
  }

  close() {
    this.list.hidden = true;
    this.input.setAttribute("aria-expanded", "false");
  }
}
