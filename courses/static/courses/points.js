// Placing the anatomical points of one exhibit: the next one named, shown on the figure and looked at closely.
"use strict";

import { fit } from "../shared/js/fit.js";
import { Keeper } from "../shared/js/keeping.js";
import { Stage, draw } from "../shared/js/stage.js";

const CLOSE = 3;
const NUDGE = 0.0006; // picture units: half a pixel of a laptop's width, the whole picture shown
const page = document.getElementById("placing");
const ask = JSON.parse(document.getElementById("ask").textContent);
const words = JSON.parse(document.getElementById("words").textContent);
const say = (word, values = {}) => words[word].replace(/\{(\w+)\}/g, (_, name) => values[name] ?? "");
const find = (selector, root = page) => root.querySelector(selector);

let points = ask.content.points; // name to [x, y], or null where it is not visible
let chosen = nextFrom(-1) ?? 0;
let done = []; // [name, what it was before], for undo

const stage = new Stage(find("[data-stage]"), { onTap: ({ x, y }) => place([x, y]), step: 0.004 });
const keeper = new Keeper({
  address: page.dataset.save,
  store: page.dataset.store,
  token: page.dataset.token,
  revision: ask.revision,
  onState: showState,
});

// ---- what the person does --------------------------------------------------------------------------------

function place(spot) {
  decide(spot, "said");
}

function decide(value, word) {
  const { name, label } = ask.points[chosen];
  done.push([name, points[name]]);
  points[name] = value;
  keeper.keep({ points });
  const next = nextFrom(chosen);
  announce(next === null ? say("all") : say(word, { label, next: ask.points[next].label }));
  if (next !== null) choose(next);
  else show();
}

function correct(spot, finished) {
  const { name, label } = ask.points[chosen];
  if (!correct.before) correct.before = points[name];
  points[name] = spot;
  if (!finished) return stage.redraw();
  done.push([name, correct.before]);
  correct.before = null;
  keeper.keep({ points });
  announce(say("nudged", { label }));
  show();
}

function undo() {
  const last = done.pop();
  if (!last) return;
  const [name, before] = last;
  if (before === undefined) delete points[name];
  else points[name] = before;
  keeper.keep({ points });
  choose(ask.points.findIndex((point) => point.name === name));
}

function choose(index) {
  chosen = index;
  stage.showCursor(null);
  lookThere();
  show();
}

function nextFrom(index) {
  const order = [...ask.points.keys()];
  const ahead = [...order.slice(index + 1), ...order.slice(0, index + 1)];
  return ahead.find((each) => points[ask.points[each].name] === undefined) ?? null;
}

// The part where the point is to be expected. The middle of the view is moved to a coarse grid, so that it
// does not itself say where the point is.
function lookThere() {
  if (!find("[data-follow]").checked) return;
  const { name } = ask.points[chosen];
  const at = points[name] ?? expected(name);
  if (!at) return stage.whole();
  const cell = 1 / (4 * CLOSE);
  const [x, y] = points[name] ? at : at.map((value) => Math.round(value / cell) * cell);
  stage.lookAt({ x, y }, CLOSE);
}

function expected(name) {
  const known = ask.points.map((point) => point.name).filter((each) => points[each] && ask.ideal[each]);
  const move = fit(known.map((each) => ask.ideal[each]), known.map((each) => points[each]));
  return move && ask.ideal[name] ? move(ask.ideal[name]) : null;
}

// ---- what the page shows ---------------------------------------------------------------------------------

function show() {
  const point = ask.points[chosen];
  find("[data-of]").textContent = `${say("of", { n: chosen + 1, all: ask.points.length })}, ${stateOf(point.name)}`;
  find("[data-label]").textContent = point.label;
  find("[data-where]").textContent = point.where;
  find("[data-undo]").disabled = !done.length;
  const last = done.length && ask.points.find(({ name }) => name === done[done.length - 1][0]);
  find("[data-undo]").textContent = last ? say("undo", { label: last.label }) : find("[data-undo]").textContent;
  for (const button of page.querySelectorAll("[data-nudge]")) button.disabled = !points[point.name];
  const placed = ask.points.filter(({ name }) => points[name]).length;
  const hidden = ask.points.filter(({ name }) => points[name] === null).length;
  const left = ask.points.length - placed - hidden;
  for (const count of page.querySelectorAll("[data-count]")) count.textContent = say("count", { placed, hidden, left });
  showAll();
  showGuide(point.name);
  stage.redraw();
}

function stateOf(name) {
  if (points[name]) return say("placed");
  return points[name] === null ? say("hidden") : say("waiting");
}

function showAll() {
  const list = find("[data-all]");
  if (!list.children.length) list.append(...ask.points.map((_point, index) => rowOf(index)));
  ask.points.forEach(({ name }, index) => {
    const button = list.children[index].firstElementChild;
    button.toggleAttribute("aria-current", index === chosen);
    button.lastElementChild.textContent = stateOf(name);
  });
}

function rowOf(index) {
  const item = document.createElement("li");
  const button = document.createElement("button");
  const state = document.createElement("span");
  button.type = "button";
  state.className = "hint";
  button.append(ask.points[index].label, " ", state);
  button.addEventListener("click", () => choose(index));
  item.append(button);
  return item;
}

function showGuide(name) {
  const at = ask.ideal[name];
  const guide = page.querySelector(".guide");
  if (!guide) return;
  const size = guide.viewBox.baseVal;
  for (const ring of guide.querySelectorAll("circle")) {
    ring.setAttribute("r", at ? Math.max(size.width, size.height) / 28 : 0);
    ring.setAttribute("cx", 1000 * (at?.[0] ?? 0));
    ring.setAttribute("cy", 1000 * (at?.[1] ?? 0));
  }
}

function drawPoints() {
  const screen = (name) => points[name] && stage.toScreen({ x: points[name][0], y: points[name][1] });
  for (const [first, second] of ask.bones) {
    const [start, end] = [screen(first), screen(second)];
    if (!start || !end) continue;
    const line = { x1: start.x, y1: start.y, x2: end.x, y2: end.y };
    stage.lines.append(draw("line", { ...line, class: "casing leader-casing" }), draw("line", { ...line, class: "point-bone" }));
  }
  for (const { name } of ask.points) {
    const at = screen(name);
    if (!at || name === ask.points[chosen].name) continue;
    ring(at, 6);
  }
  drawChosen(screen(ask.points[chosen].name), ask.points[chosen].label);
}

function ring({ x, y }, r) {
  stage.lines.append(draw("circle", { cx: x, cy: y, r, class: "casing leader-casing" }), draw("circle", { cx: x, cy: y, r, class: "point-ring" }));
}

function drawChosen(at, label) {
  if (!at) return;
  ring(at, 7);
  ring(at, 13);
  const beyond = at.x > stage.box.width * 0.6;
  const text = draw("text", { x: at.x + (beyond ? -20 : 20), y: at.y - 14, class: "point-name", "text-anchor": beyond ? "end" : "start" });
  text.textContent = label;
  const grip = draw("circle", { cx: at.x, cy: at.y, r: 22, class: "point-grip" });
  grip.addEventListener("pointerdown", drag);
  stage.lines.append(text, grip);
}

function drag(event) {
  event.stopPropagation();
  event.preventDefault();
  const from = stage.spotOf(event);
  const [x, y] = points[ask.points[chosen].name];
  const home = stage.toScreen({ x, y });
  // The point keeps its distance from the finger, which would otherwise cover it.
  const at = (move) => {
    const spot = stage.spotOf(move);
    const to = stage.toPicture({ x: home.x + spot.x - from.x, y: home.y + spot.y - from.y });
    return [to.x, to.y];
  };
  const mover = (move) => correct(at(move), false);
  const end = (last) => {
    window.removeEventListener("pointermove", mover);
    if (last.type === "pointerup") correct(at(last), true);
  };
  window.addEventListener("pointermove", mover);
  for (const over of ["pointerup", "pointercancel"]) window.addEventListener(over, end, { once: true });
}

function nudge(dx, dy) {
  const at = points[ask.points[chosen].name];
  if (!at) return;
  const limit = (value, side) => Math.min(Math.max(value, 0), side / stage.longer);
  correct([limit(at[0] + dx * NUDGE, stage.width), limit(at[1] + dy * NUDGE, stage.height)], true);
}

function announce(text) {
  find("[data-announce]").textContent = text;
}

// ---- keeping and finishing -------------------------------------------------------------------------------

function showState(state, said) {
  const clock = (iso) => new Date(iso).toTimeString().slice(0, 5);
  const text = {
    saved: () => say("saved", { at: said.saved_at }),
    "no connection": () => say("offline", { at: clock(said.since) }),
    "signed out": () => say("signedOut"),
    refused: () => say("refused", said),
    "handed in": () => "",
    overtaken: () => "",
  }[state]();
  find("[data-state]").textContent = state === "saved" ? text : "";
  find("[data-trouble]").hidden = !text || state === "saved";
  find("[data-trouble]").textContent = text;
  find("[data-overtaken]").hidden = state !== "overtaken";
  if (state === "overtaken") offerBoth(said);
  if (state === "handed in") {
    keeper.forget();
    location.reload();
  }
}

function offerBoth(said) {
  const box = find("[data-overtaken]");
  find("[data-mine]", box).onclick = () => {
    box.hidden = true;
    keeper.insist(said.revision);
  };
  find("[data-theirs]", box).onclick = () => {
    box.hidden = true;
    keeper.forget();
    keeper.seen = said.revision;
    points = said.content.points;
    done = [];
    show();
  };
  box.focus();
}

find("[data-finish]").addEventListener("submit", async (event) => {
  event.preventDefault();
  const form = event.target;
  if (Object.values(points).filter(Boolean).length < 2) return announce(say("few"));
  if (form.dataset.going) return;
  form.dataset.going = "1";
  if (await keeper.send()) {
    keeper.forget();
    form.seen.value = keeper.seen;
    form.submit();
  } else {
    delete form.dataset.going;
  }
});

find("[data-hidden]").addEventListener("click", () => decide(null, "saidHidden"));
find("[data-skip]").addEventListener("click", () => choose(nextFrom(chosen) ?? (chosen + 1) % ask.points.length));
find("[data-undo]").addEventListener("click", undo);
find("[data-follow]").addEventListener("change", (event) => (event.target.checked ? lookThere() : stage.whole()));
find("[data-closer]").addEventListener("click", () => {
  const at = points[ask.points[chosen].name];
  stage.closer(1.6, at ? stage.toScreen({ x: at[0], y: at[1] }) : undefined);
});
find("[data-whole]").addEventListener("click", () => stage.whole());
stage.root.addEventListener("stage:closer", (event) => {
  find("[data-whole]").disabled = event.detail === 1;
});
for (const button of page.querySelectorAll("[data-nudge]")) {
  button.addEventListener("click", () => nudge(...button.dataset.nudge.split(" ").map(Number)));
}

const left = keeper.left();
if (left && JSON.stringify(left.content) !== JSON.stringify(ask.content)) {
  ({ points } = left.content);
  chosen = nextFrom(-1) ?? 0;
  keeper.resume(left, ask.last, ask.revision);
} else if (left) {
  keeper.forget();
}
stage.onRedraw(drawPoints);
choose(chosen);
page.dataset.ready = "1";
