// One exhibit over the other: wiped or faded, with bones, values and outlines; or side by side, linked.
"use strict";

import { coverOf, drawLines, drawWords } from "../shared/js/bones.js";
import { drawRegions } from "../shared/js/marks.js";
import { inverse, moved, movedLines, scaleOf } from "../shared/js/plane.js";
import { Stage, draw } from "../shared/js/stage.js";

const page = document.getElementById("compare");
const drawings = JSON.parse(document.getElementById("drawings").textContent);
const find = (selector, root = page) => root.querySelector(selector);
const roomy = matchMedia("(min-width: 901px)").matches;
const shows = { outline: true, skeleton: false, regions: false };
const rows = [...page.querySelectorAll("[data-measure]")];
const shown = new Set(rows.slice(0, roomy ? 2 : 1).map((row) => row.dataset.measure));
const ways = new Map(drawings.ways.map((way) => [way.name, way]));

let way = drawings.ways[0];
let wipe = 0.5; // share of the picture's width that is the correct one
let fade = null; // share of the incorrect one, when it fades instead
let view = "over";

for (const each of ways.values()) {
  each.measures = new Map(drawings.measures.map(({ name, incorrect }) => [name, movedLines(each.matrix, incorrect)]));
  each.skeleton = movedLines(each.matrix, drawings.skeletons.incorrect);
  each.regions = drawings.regions.incorrect.map(({ word, regions }) => ({
    letter: word,
    regions: regions.map((polygon) => polygon.map((corner) => moved(each.matrix, corner))),
  }));
  each.cover = coverOf([...drawings.cover, ...drawings.otherCover.map((polygon) => polygon.map((at) => moved(each.matrix, at)))]);
}

// ---- one over the other ----------------------------------------------------------------------------------

const over = find("[data-view=over]");
const stage = new Stage(find("[data-stage]", over));
const wiped = find(".wiped", over);
const laid = find(".laid-over", over);
const grip = find("[data-wipe]", over);
const other = laid.querySelector("img");

function drawOver() {
  const { width, height } = stage.box;
  const [a, b, c, d, e, f] = way.matrix;
  const ratio = other.width && other.height ? other.getAttribute("width") / other.getAttribute("height") : 1;
  laid.style.width = `${stage.unit * Math.min(1, ratio)}px`;
  laid.style.transform = `translate(${stage.left}px, ${stage.top}px) scale(${stage.scale}) matrix(${[a, b, c, d, e * stage.unit, f * stage.unit]})`;
  const x = fade === null ? wipe * width : 0;
  wiped.style.clipPath = `inset(0 0 0 ${x}px)`;
  wiped.style.opacity = fade ?? 1;
  find("[data-wipe-line]", over).style.left = `${x}px`;
  grip.style.left = `${Math.min(Math.max(x, 44), width - 44)}px`;
  const percent = Math.round(100 * wipe);
  grip.setAttribute("aria-valuenow", percent);
  if (shows.outline && fade === null) drawOutlines(x, width, height);
  if (shows.skeleton) {
    drawLines(stage, [drawings.skeletons.correct], "correct");
    drawLines(stage, [way.skeleton], "incorrect");
  }
  drawMeasures();
  if (shows.regions) drawRegions(stage, [...ownRegions("correct"), ...way.regions]);
}

// On each side of the wipe the dog that lies under it, where the two differ.
function drawOutlines(x, width, height) {
  for (const [side, from, to] of [["correct", x, width], ["incorrect", 0, x]]) {
    const clip = draw("clipPath", { id: `side-${side}` });
    clip.append(draw("rect", { x: from, y: 0, width: Math.max(0, to - from), height }));
    const group = draw("g", { "clip-path": `url(#side-${side})` });
    const d = way[side].map((line) => `M${line.map(([px, py]) => at(px, py)).join("L")}`).join("");
    group.append(draw("path", { d, class: "casing thin-casing" }), draw("path", { d, class: "outline-other" }));
    stage.lines.append(clip, group);
  }
}

function at(x, y) {
  const spot = stage.toScreen({ x, y });
  return `${spot.x.toFixed(1)} ${spot.y.toFixed(1)}`;
}

function drawMeasures() {
  const chosen = drawings.measures.filter(({ name }) => shown.has(name));
  drawLines(stage, chosen.map(({ correct }) => correct), "correct");
  drawLines(stage, chosen.map(({ name }) => way.measures.get(name)), "incorrect");
  if (!roomy) return;
  const words = chosen.flatMap(({ name, correct }) => [correct, way.measures.get(name)]);
  drawWords(stage, words.map(({ label, value, at: spot }) => ({ text: `${label} ${value}`, at: spot })), way.cover);
}

function ownRegions(side) {
  return drawings.regions[side].map(({ word, regions }) => ({ letter: word, regions }));
}

// The wipe begins just behind the part in question, never through it.
function begin() {
  const [first] = drawings.measures.filter(({ name }) => shown.has(name));
  if (!first) return;
  const ends = [...first.correct.ends, ...way.measures.get(first.name).ends, first.correct.at];
  const xs = ends.map(([x]) => (x * stage.longer) / stage.width);
  const ys = ends.map(([, y]) => y);
  wipe = Math.min(...xs) > 0.2 ? Math.min(...xs) - 0.07 : Math.min(0.93, Math.max(...xs) + 0.07);
  if (roomy) return;
  const middle = (values) => (Math.min(...values) + Math.max(...values)) / 2;
  stage.lookAt({ x: (middle(xs) * stage.width) / stage.longer, y: middle(ys) }, 2.2);
  wipe = 0.3;
}

// Where the first of the chosen measures lies on the correct one, on the screen.
function partInQuestion(on) {
  const [first] = drawings.measures.filter(({ name }) => shown.has(name));
  if (!first) return undefined;
  const ends = first.correct.ends.length ? first.correct.ends : [first.correct.at];
  const mean = (axis) => ends.reduce((sum, end) => sum + end[axis], 0) / ends.length;
  return on.toScreen({ x: mean(0), y: mean(1) });
}

let waiting = false;
function soon() {
  if (waiting) return;
  waiting = true;
  requestAnimationFrame(() => {
    waiting = false;
    stage.redraw();
  });
}

function setWipe(value) {
  wipe = Math.min(1, Math.max(0, value));
  soon();
}

grip.addEventListener("pointerdown", (event) => {
  event.stopPropagation();
  event.preventDefault();
  grip.focus({ preventScroll: true });
  grip.setPointerCapture(event.pointerId);
  const from = stage.spotOf(event).x - wipe * stage.box.width;
  const mover = (move) => setWipe((stage.spotOf(move).x - from) / stage.box.width);
  grip.addEventListener("pointermove", mover);
  for (const end of ["pointerup", "pointercancel"]) {
    grip.addEventListener(end, () => grip.removeEventListener("pointermove", mover), { once: true });
  }
});
grip.addEventListener("keydown", (event) => {
  const steps = { ArrowLeft: -0.01, ArrowDown: -0.01, ArrowRight: 0.01, ArrowUp: 0.01, PageDown: -0.1, PageUp: 0.1 };
  if (event.key in steps) setWipe(wipe + steps[event.key] * (event.shiftKey ? 5 : 1));
  else if (event.key === "Home") setWipe(0);
  else if (event.key === "End") setWipe(1);
  else return;
  event.preventDefault();
});
for (const choice of page.querySelectorAll("[data-giving]")) {
  choice.addEventListener("change", () => {
    fade = choice.value === "fade" ? Number(find("[data-fade-by]").value) / 100 : null;
    find("[data-fade]").hidden = fade === null;
    for (const part of [grip, find("[data-wipe-line]")]) part.hidden = fade !== null;
    stage.redraw();
  });
}
find("[data-fade-by]").addEventListener("input", (event) => {
  fade = Number(event.target.value) / 100;
  soon();
});

// ---- side by side, linked --------------------------------------------------------------------------------

const beside = find("[data-view=beside]");
const pair = [...beside.querySelectorAll("[data-half]")].map((root) => new Stage(root));
const covers = [coverOf(drawings.cover), coverOf(drawings.otherCover)];
let led = false;

// The other shows the same part of its dog, as large.
function lead(index) {
  if (led || view !== "beside") return;
  const [leader, follower] = [pair[index], pair[1 - index]];
  const matrix = index === 0 ? inverse(way.matrix) : way.matrix;
  led = true;
  if (leader.scale === 1) follower.whole();
  else {
    const spot = leader.toPicture({ x: leader.box.width / 2, y: leader.box.height / 2 });
    const [x, y] = moved(matrix, [spot.x, spot.y]);
    follower.lookAt({ x, y }, (leader.scale * leader.unit) / (follower.unit * scaleOf(matrix)));
  }
  led = false;
}

pair.forEach((each, index) => {
  const side = index === 0 ? "correct" : "incorrect";
  each.onRedraw(() => {
    if (shows.skeleton) drawLines(each, [drawings.skeletons[side]], side);
    const chosen = drawings.measures.filter(({ name }) => shown.has(name)).map((measure) => measure[side]);
    drawLines(each, chosen, side);
    drawWords(each, chosen.map(({ value, at: spot }) => ({ text: value, at: spot })), covers[index]);
    if (shows.regions) drawRegions(each, ownRegions(side));
    lead(index);
  });
});

// ---- both ------------------------------------------------------------------------------------------------

function show() {
  page.dataset.now = view;
  over.hidden = view !== "over";
  beside.hidden = view !== "beside";
  find("[data-title]").textContent = page.dataset[view];
  for (const button of page.querySelectorAll("[data-switch]")) {
    button.hidden = false;
    button.textContent = view === "over" ? button.dataset.beside : button.dataset.over;
  }
  for (const part of page.querySelectorAll("[data-only]")) part.hidden = !part.dataset.only.split(" ").includes(view);
  redraw();
}

function redraw() {
  for (const row of rows) find("[data-show]", row).setAttribute("aria-pressed", String(shown.has(row.dataset.measure)));
  for (const each of view === "over" ? [stage] : pair) each.redraw();
}

for (const button of page.querySelectorAll("[data-switch]")) {
  button.addEventListener("click", () => {
    view = view === "over" ? "beside" : "over";
    show();
    // The button that was pressed may have gone with its view.
    [...page.querySelectorAll("[data-switch]")].find((each) => each.offsetParent)?.focus({ preventScroll: true });
  });
}
for (const choice of page.querySelectorAll("[data-by]")) {
  choice.addEventListener("change", () => {
    way = ways.get(choice.value);
    redraw();
  });
}
for (const box of page.querySelectorAll("[data-shows]")) {
  box.addEventListener("change", () => {
    shows[box.dataset.shows] = box.checked;
    redraw();
  });
}
for (const row of rows) {
  find("[data-show]", row).addEventListener("click", () => {
    const name = row.dataset.measure;
    if (!roomy && !shown.has(name)) shown.clear();
    if (!shown.delete(name)) shown.add(name);
    redraw();
  });
}
for (const [root, stages] of [[over, [stage]], [beside, pair]]) {
  find("[data-closer]", root).addEventListener("click", () => stages[0].closer(1.6, partInQuestion(stages[0])));
  find("[data-whole]", root).addEventListener("click", () => stages.forEach((each) => each.whole()));
  for (const each of stages) {
    each.root.addEventListener("stage:closer", () => {
      find("[data-whole]", root).disabled = stages.every(({ scale }) => scale === 1);
    });
  }
}
stage.onRedraw(drawOver);
show();
begin();
stage.redraw();
page.dataset.ready = "1";
