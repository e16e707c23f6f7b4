// Where several people placed the same points: a cross for each, a dot at their mean. Choosing a row shows it.
"use strict";

import { Stage, draw } from "../shared/js/stage.js";

const shown = JSON.parse(document.getElementById("shown").textContent);
const page = document.getElementById("spread");
const stage = new Stage(page.querySelector("[data-stage]"));
let chosen = null;

function drawAll() {
  for (const point of shown) {
    const mean = stage.toScreen({ x: point.mean[0], y: point.mean[1] });
    if (point.places.length > 1) {
      for (const [x, y] of point.places) cross(stage.toScreen({ x, y }));
    }
    const dot = { cx: mean.x, cy: mean.y };
    stage.lines.append(draw("circle", { ...dot, r: 4, class: "spread-mean" }));
    if (point.name === chosen) {
      stage.lines.append(draw("circle", { ...dot, r: 12, class: "casing" }), draw("circle", { ...dot, r: 12, class: "spread-chosen" }));
    }
  }
}

function cross({ x, y }) {
  const d = `M${x - 5} ${y - 5}L${x + 5} ${y + 5}M${x - 5} ${y + 5}L${x + 5} ${y - 5}`;
  stage.lines.append(draw("path", { d, class: "casing leader-casing" }), draw("path", { d, class: "spread-cross" }));
}

for (const row of document.querySelectorAll("[data-point]")) {
  row.addEventListener("pointerenter", () => {
    chosen = row.dataset.point;
    stage.redraw();
  });
}
page.querySelector("[data-closer]").addEventListener("click", () => stage.closer(1.6));
page.querySelector("[data-whole]").addEventListener("click", () => stage.whole());
stage.root.addEventListener("stage:closer", (event) => {
  page.querySelector("[data-whole]").disabled = event.detail === 1;
});
stage.onRedraw(drawAll);
