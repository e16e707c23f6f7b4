// Placing anatomical points on a picture: the next one named, shown on the figure and looked at closely. What
// becomes of them is for the page that uses it.
"use strict";

import { fit } from "../shared/js/fit.js";
import { Stage, draw } from "../shared/js/stage.js";

const CLOSE = 3;
const NUDGE = 0.0006; // picture units: half a pixel of a laptop's width, the whole picture shown

export class Placing {
  // `ask` has points [{name, label, where}] in order, bones and the ideal figure's places. `points` holds name to
  // [x, y], or null where it is not visible. `onChange` is told of every decision, `onShow` is called as a method
  // whenever the page has been brought up to date.
  constructor(page, { ask, points, say, onChange, onShow = () => {} }) {
    Object.assign(this, { page, ask, points, say, onChange, onShow });
    this.done = []; // [name, what it was before], for undo
    this.chosen = 0;
    this.stage = new Stage(this.find("[data-stage]"), { onTap: ({ x, y }) => this.decide([x, y], "said"), step: 0.004 });
    this.stage.onRedraw(() => this.drawPoints());
    this.bind();
    this.take(points);
  }

  find(selector) {
    return this.page.querySelector(selector);
  }

  bind() {
    this.find("[data-hidden]").addEventListener("click", () => this.decide(null, "saidHidden"));
    this.find("[data-skip]").addEventListener("click", () => this.choose(this.nextFrom(this.chosen) ?? (this.chosen + 1) % this.ask.points.length));
    this.find("[data-undo]").addEventListener("click", () => this.undo());
    this.find("[data-follow]").addEventListener("change", (event) => (event.target.checked ? this.lookThere() : this.stage.whole()));
    this.find("[data-closer]").addEventListener("click", () => {
      const at = this.points[this.asked.name];
      this.stage.closer(1.6, at ? this.stage.toScreen({ x: at[0], y: at[1] }) : undefined);
    });
    this.find("[data-whole]").addEventListener("click", () => this.stage.whole());
    this.stage.root.addEventListener("stage:closer", (event) => {
      this.find("[data-whole]").disabled = event.detail === 1;
    });
    for (const button of this.page.querySelectorAll("[data-nudge]")) {
      button.addEventListener("click", () => this.nudge(...button.dataset.nudge.split(" ").map(Number)));
    }
  }

  get asked() {
    return this.ask.points[this.chosen];
  }

  get decided() {
    return this.ask.points.filter(({ name }) => this.points[name] !== undefined).length;
  }

  // ---- what the person does ------------------------------------------------------------------------------

  // Begin anew with points that come from elsewhere.
  take(points) {
    this.points = points;
    this.done = [];
    this.choose(this.nextFrom(-1) ?? 0);
  }

  decide(value, word) {
    const { name, label } = this.asked;
    this.done.push([name, this.points[name]]);
    this.points[name] = value;
    this.onChange(name);
    const next = this.nextFrom(this.chosen);
    this.announce(next === null ? this.say("all") : this.say(word, { label, next: this.ask.points[next].label }));
    if (next !== null) this.choose(next);
    else this.show();
  }

  correct(spot, finished) {
    const { name, label } = this.asked;
    if (!this.before) this.before = this.points[name];
    this.points[name] = spot;
    if (!finished) {
      this.stage.redraw();
      return;
    }
    this.done.push([name, this.before]);
    this.before = null;
    this.onChange(name);
    this.announce(this.say("nudged", { label }));
    this.show();
  }

  undo() {
    const last = this.done.pop();
    if (!last) return;
    const [name, before] = last;
    if (before === undefined) delete this.points[name];
    else this.points[name] = before;
    this.onChange(name);
    this.choose(this.ask.points.findIndex((point) => point.name === name));
  }

  choose(index) {
    this.chosen = index;
    this.stage.showCursor(null);
    this.lookThere();
    this.show();
  }

  nextFrom(index) {
    const order = [...this.ask.points.keys()];
    const ahead = [...order.slice(index + 1), ...order.slice(0, index + 1)];
    return ahead.find((each) => this.points[this.ask.points[each].name] === undefined) ?? null;
  }

  // The part where the point is to be expected. The middle of the view is moved to a coarse grid, so that it
  // does not itself say where the point is.
  lookThere() {
    if (!this.find("[data-follow]").checked) return;
    const { name } = this.asked;
    const at = this.points[name] ?? this.expected(name);
    if (!at) {
      this.stage.whole();
      return;
    }
    const cell = 1 / (4 * CLOSE);
    const [x, y] = this.points[name] ? at : at.map((value) => Math.round(value / cell) * cell);
    this.stage.lookAt({ x, y }, CLOSE);
  }

  expected(name) {
    const { ideal } = this.ask;
    const known = this.ask.points.map((point) => point.name).filter((each) => this.points[each] && ideal[each]);
    const move = fit(known.map((each) => ideal[each]), known.map((each) => this.points[each]));
    return move && ideal[name] ? move(ideal[name]) : null;
  }

  nudge(dx, dy) {
    const at = this.points[this.asked.name];
    if (!at) return;
    const limit = (value, side) => Math.min(Math.max(value, 0), side / this.stage.longer);
    this.correct([limit(at[0] + dx * NUDGE, this.stage.width), limit(at[1] + dy * NUDGE, this.stage.height)], true);
  }

  // ---- what the page shows -------------------------------------------------------------------------------

  show() {
    const { points, ask, say } = this;
    const point = this.asked;
    this.find("[data-of]").textContent = `${say("of", { n: this.chosen + 1, all: ask.points.length })}, ${this.stateOf(point.name)}`;
    this.find("[data-label]").textContent = point.label;
    this.find("[data-where]").textContent = point.where;
    const undo = this.find("[data-undo]");
    undo.disabled = !this.done.length;
    const last = this.done.length && ask.points.find(({ name }) => name === this.done[this.done.length - 1][0]);
    if (last) undo.textContent = say("undo", { label: last.label });
    for (const button of this.page.querySelectorAll("[data-nudge]")) button.disabled = !points[point.name];
    const placed = ask.points.filter(({ name }) => points[name]).length;
    const hidden = ask.points.filter(({ name }) => points[name] === null).length;
    const counts = { placed, hidden, left: ask.points.length - placed - hidden };
    for (const count of this.page.querySelectorAll("[data-count]")) count.textContent = say("count", counts);
    this.showAll();
    this.showGuide(point.name);
    this.onShow();
    this.stage.redraw();
  }

  stateOf(name) {
    if (this.points[name]) return this.say("placed");
    return this.points[name] === null ? this.say("hidden") : this.say("waiting");
  }

  showAll() {
    const list = this.find("[data-all]");
    if (!list.children.length) list.append(...this.ask.points.map((_point, index) => this.rowOf(index)));
    this.ask.points.forEach(({ name }, index) => {
      const button = list.children[index].firstElementChild;
      button.toggleAttribute("aria-current", index === this.chosen);
      button.lastElementChild.textContent = this.stateOf(name);
    });
  }

  rowOf(index) {
    const item = document.createElement("li");
    const button = document.createElement("button");
    const state = document.createElement("span");
    button.type = "button";
    state.className = "hint";
    button.append(this.ask.points[index].label, " ", state);
    button.addEventListener("click", () => this.choose(index));
    item.append(button);
    return item;
  }

  showGuide(name) {
    const at = this.ask.ideal[name];
    const guide = this.find(".guide");
    if (!guide) return;
    const size = guide.viewBox.baseVal;
    for (const ring of guide.querySelectorAll("circle")) {
      ring.setAttribute("r", at ? Math.max(size.width, size.height) / 28 : 0);
      ring.setAttribute("cx", 1000 * (at?.[0] ?? 0));
      ring.setAttribute("cy", 1000 * (at?.[1] ?? 0));
    }
  }

  drawPoints() {
    const { stage, points, ask } = this;
    const screen = (name) => points[name] && stage.toScreen({ x: points[name][0], y: points[name][1] });
    for (const [first, second] of ask.bones) {
      const [start, end] = [screen(first), screen(second)];
      if (!start || !end) continue;
      const line = { x1: start.x, y1: start.y, x2: end.x, y2: end.y };
      stage.lines.append(draw("line", { ...line, class: "casing leader-casing" }), draw("line", { ...line, class: "point-bone" }));
    }
    for (const { name } of ask.points) {
      const at = screen(name);
      if (!at || name === this.asked.name) continue;
      this.ring(at, 6);
    }
    this.drawChosen(screen(this.asked.name), this.asked.label);
  }

  ring({ x, y }, r) {
    this.stage.lines.append(draw("circle", { cx: x, cy: y, r, class: "casing leader-casing" }), draw("circle", { cx: x, cy: y, r, class: "point-ring" }));
  }

  drawChosen(at, label) {
    if (!at) return;
    this.ring(at, 7);
    this.ring(at, 13);
    const beyond = at.x > this.stage.box.width * 0.6;
    const text = draw("text", { x: at.x + (beyond ? -20 : 20), y: at.y - 14, class: "point-name", "text-anchor": beyond ? "end" : "start" });
    text.textContent = label;
    const grip = draw("circle", { cx: at.x, cy: at.y, r: 22, class: "point-grip" });
    grip.addEventListener("pointerdown", (event) => this.drag(event));
    this.stage.lines.append(text, grip);
  }

  drag(event) {
    event.stopPropagation();
    event.preventDefault();
    const { stage } = this;
    const from = stage.spotOf(event);
    const [x, y] = this.points[this.asked.name];
    const home = stage.toScreen({ x, y });
    // The point keeps its distance from the finger, which would otherwise cover it.
    const at = (move) => {
      const spot = stage.spotOf(move);
      const to = stage.toPicture({ x: home.x + spot.x - from.x, y: home.y + spot.y - from.y });
      return [to.x, to.y];
    };
    const mover = (move) => this.correct(at(move), false);
    const end = (last) => {
      window.removeEventListener("pointermove", mover);
      if (last.type === "pointerup") this.correct(at(last), true);
    };
    window.addEventListener("pointermove", mover);
    for (const over of ["pointerup", "pointercancel"]) window.addEventListener(over, end, { once: true });
  }

  announce(text) {
    this.find("[data-announce]").textContent = text;
  }
}
