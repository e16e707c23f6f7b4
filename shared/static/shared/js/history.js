// What can be undone and done again. States are kept as JSON; small steps of one kind in a row count as one.
"use strict";

const KEPT = 100;
const TOGETHER = 1200; // ms within which steps of one kind belong together

export class History {
  constructor(state) {
    this.states = [JSON.stringify(state)];
    this.at = 0;
    this.kind = null;
    this.when = 0;
  }

  add(state, kind = null) {
    const text = JSON.stringify(state);
    if (text === this.states[this.at]) return;
    const now = performance.now();
    const together = kind !== null && kind === this.kind && now - this.when < TOGETHER && this.at > 0;
    this.states.splice(together ? this.at : this.at + 1, Infinity, text);
    if (this.states.length > KEPT) this.states.shift();
    this.at = this.states.length - 1;
    this.kind = kind;
    this.when = now;
  }

  get canUndo() {
    return this.at > 0;
  }

  get canRedo() {
    return this.at < this.states.length - 1;
  }

  // The state before or after, or null where there is none.
  go(step) {
    const next = this.at + step;
    if (next < 0 || next >= this.states.length) return null;
    this.at = next;
    this.kind = null;
    return JSON.parse(this.states[next]);
  }
}
