// A class put in order: by drag, by Alt with the arrow keys, by a number, or by its buttons.
"use strict";

const FAR = 6; // pixels that make a press a drag

export class Placing {
  // `whole`: every exhibit has a place from the start. `onChange` gets the order, and which exhibit moved.
  constructor(list, { say, onChange, onChoose, whole = false }) {
    Object.assign(this, { list, say, onChange, onChoose, whole });
    this.rows = new Map([...list.querySelectorAll("[data-exhibit]")].map((row) => [Number(row.dataset.exhibit), row]));
    this.divider = list.querySelector("[data-divider]");
    this.placed = [];
    this.current = this.ids[0];
    for (const [id, row] of this.rows) this.listen(id, row);
  }

  get ids() {
    return [...this.rows.keys()];
  }

  get inOrder() {
    return [...this.placed, ...this.ids.filter((id) => !this.placed.includes(id))];
  }

  letter(id) {
    return this.rows.get(id).dataset.letter;
  }

  take(placed) {
    this.placed = placed.filter((id) => this.rows.has(id));
    this.show();
  }

  show() {
    const focused = document.activeElement;
    const rows = this.inOrder.map((id) => this.rows.get(id));
    if (this.divider) rows.splice(this.placed.length, 0, this.divider);
    const wanted = rows.filter(Boolean);
    wanted.forEach((row, index) => this.list.children[index] !== row && this.list.insertBefore(row, this.list.children[index]));
    if (this.divider) this.divider.hidden = this.placed.length === this.rows.size;
    for (const [id, row] of this.rows) this.showRow(id, row);
    if (this.list.contains(focused) && document.activeElement !== focused) focused.focus();
  }

  showRow(id, row) {
    const place = this.placed.indexOf(id);
    const values = { letter: row.dataset.letter, n: place + 1 };
    row.querySelector("[data-place]").textContent = place < 0 ? "" : place + 1;
    row.classList.toggle("placing-out", place < 0);
    const grip = row.querySelector("[data-grip]");
    grip.setAttribute("aria-label", this.say(place < 0 ? "row_out" : "row", values));
    for (const button of row.querySelectorAll("button")) button.tabIndex = id === this.current ? 0 : -1;
    const shown = { put: place < 0, up: place >= 0, down: place >= 0 };
    for (const [name, yes] of Object.entries(shown)) {
      const button = row.querySelector(`[data-${name}]`);
      if (button) button.hidden = !yes;
    }
    const disabled = { up: place === 0, down: this.whole && place === this.placed.length - 1 };
    for (const [name, yes] of Object.entries(disabled)) row.querySelector(`[data-${name}]`).disabled = yes;
  }

  // `place` counts from 0; null takes the exhibit out of the placing.
  move(id, place, { done = true } = {}) {
    const others = this.placed.filter((each) => each !== id);
    const next = [...others];
    if (place !== null) next.splice(Math.min(Math.max(place, 0), others.length), 0, id);
    const same = next.join() === this.placed.join();
    this.placed = next;
    this.current = id;
    this.show();
    if (done && !same) this.onChange(this.placed, id);
  }

  step(id, way) {
    const place = this.placed.indexOf(id);
    if (place < 0) return way < 0 ? this.move(id, this.placed.length) : undefined;
    if (way > 0 && place === this.placed.length - 1) return this.whole ? undefined : this.move(id, null);
    return this.move(id, Math.max(0, place + way));
  }

  listen(id, row) {
    const grip = row.querySelector("[data-grip]");
    row.addEventListener("keydown", (event) => this.keyed(event, id));
    grip.addEventListener("click", () => {
      this.current = id;
      this.show();
      this.onChoose(id);
    });
    grip.addEventListener("pointerdown", (event) => this.pressed(event, id));
    for (const image of row.querySelectorAll("img")) image.draggable = false;
    const acts = { put: () => this.move(id, this.placed.length), up: () => this.step(id, -1), down: () => this.step(id, 1) };
    for (const [name, act] of Object.entries(acts)) {
      row.querySelector(`[data-${name}]`)?.addEventListener("click", (event) => {
        act();
        if (event.target.hidden || event.target.disabled) grip.focus();
      });
    }
  }

  keyed(event, id) {
    const ways = { ArrowUp: -1, ArrowDown: 1 };
    const way = ways[event.key];
    if (way && event.altKey) {
      this.step(id, way);
      this.rows.get(id).querySelector("[data-grip]").focus();
    } else if (way) {
      const order = this.inOrder;
      this.focusOn(order[Math.min(Math.max(order.indexOf(id) + way, 0), order.length - 1)]);
    } else if (/^[1-9]$/.test(event.key) && Number(event.key) <= this.rows.size && !event.ctrlKey && !event.metaKey) {
      this.move(id, Number(event.key) - 1);
      this.rows.get(id).querySelector("[data-grip]").focus();
    } else {
      return;
    }
    event.preventDefault();
  }

  focusOn(id) {
    this.current = id;
    this.show();
    this.rows.get(id).querySelector("[data-grip]").focus();
    this.onChoose(id);
  }

  // A finger drags by the picture, so that the page can still be scrolled beside it; a mouse by the whole row.
  pressed(event, id) {
    if (event.button || (event.pointerType === "touch" && !event.target.closest("[data-handle]"))) return;
    const from = { x: event.clientX, y: event.clientY };
    const before = [...this.placed];
    let dragging = false;
    const moved = (next) => {
      if (!dragging && Math.hypot(next.clientX - from.x, next.clientY - from.y) < FAR) return;
      dragging = true;
      this.rows.get(id).classList.add("placing-dragged");
      this.move(id, this.placeAt(next.clientY, id), { done: false });
    };
    const ended = (last) => {
      window.removeEventListener("pointermove", moved);
      window.removeEventListener("pointerup", ended);
      window.removeEventListener("pointercancel", ended);
      this.rows.get(id).classList.remove("placing-dragged");
      if (last.type === "pointercancel") return this.take(before);
      if (dragging && before.join() !== this.placed.join()) this.onChange(this.placed, id);
      if (dragging) window.addEventListener("click", (click) => click.stopPropagation(), { capture: true, once: true });
      return undefined;
    };
    window.addEventListener("pointermove", moved);
    window.addEventListener("pointerup", ended);
    window.addEventListener("pointercancel", ended);
  }

  // The place that a row dropped at this height would have: above the line of those not placed, or none below it.
  placeAt(y, id) {
    const middle = (row) => {
      const { top, bottom } = row.getBoundingClientRect();
      return (top + bottom) / 2;
    };
    if (!this.whole && this.placed.length && !this.divider.hidden && y > this.divider.getBoundingClientRect().bottom) return null;
    return this.placed.filter((other) => other !== id && middle(this.rows.get(other)) < y).length;
  }
}
