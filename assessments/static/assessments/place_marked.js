// Marked points: each beside the key's; choosing a line of the ledger names its point.
"use strict";

import { draw } from "../shared/js/stage.js";
import { shown, stage } from "./marked.js";
import { drawKeyPoints, drawWord } from "./placed.js";

const { points, height } = JSON.parse(document.getElementById("detail").textContent);
const lines = [...document.querySelectorAll("#marked .ledger-line")];
const keyed = points.map((point) => ({ ...point, place: point.key }));
let chosen = null;

stage.onRedraw(() => {
  if (shown.key) {
    points.forEach(drawApart);
    drawKeyPoints(stage, keyed, { height });
  }
  for (const point of points) if (point.given) drawGiven(point, 6);
  if (chosen) drawChosen(points[chosen - 1]);
});

function screen([x, y]) {
  return stage.toScreen({ x, y });
}

function drawApart({ key, given }) {
  if (!key || !given) return;
  const [from, to] = [screen(key), screen(given)];
  const line = { x1: from.x, y1: from.y, x2: to.x, y2: to.y };
  stage.lines.append(draw("line", { ...line, class: "casing leader-casing" }), draw("line", { ...line, class: "apart" }));
}

function drawGiven({ given }, r) {
  const at = screen(given);
  const ring = { cx: at.x, cy: at.y, r };
  stage.lines.append(draw("circle", { ...ring, class: "casing leader-casing" }), draw("circle", { ...ring, class: "point-given" }));
}

function drawChosen(point) {
  const at = point.given ?? (shown.key && point.key);
  if (!at) return;
  if (point.given) drawGiven(point, 11);
  drawWord(stage, screen(at), point.label);
}

// The lines stand in the order of the points, a total after them.
lines.slice(0, points.length).forEach((line, index) => {
  line.addEventListener("click", () => {
    chosen = chosen === index + 1 ? null : index + 1;
    lines.forEach((each, place) => each.classList.toggle("ledger-chosen", place === chosen - 1));
    stage.redraw();
  });
});
stage.redraw();
