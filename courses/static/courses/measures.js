// The measures of one exhibit: those chosen in the list are drawn on the picture.
"use strict";

import { coverOf, drawLines, drawWords } from "../shared/js/bones.js";
import { Stage } from "../shared/js/stage.js";

const { measures, cover } = JSON.parse(document.getElementById("drawings").textContent);
const page = document.getElementById("measures");
const stage = new Stage(page.querySelector("[data-stage]"));
const covered = coverOf(cover);
const shown = new Set(measures.slice(0, 1).map(({ name }) => name));

function show() {
  for (const row of document.querySelectorAll("[data-measure]")) {
    row.querySelector("[data-show]").setAttribute("aria-pressed", String(shown.has(row.dataset.measure)));
  }
  stage.redraw();
}

for (const row of document.querySelectorAll("[data-measure]")) {
  row.querySelector("[data-show]").addEventListener("click", () => {
    const name = row.dataset.measure;
    if (!shown.delete(name)) shown.add(name);
    show();
  });
}
page.querySelector("[data-closer]").addEventListener("click", () => {
  const [first] = measures.filter(({ name }) => shown.has(name));
  stage.closer(1.6, first && stage.toScreen({ x: first.at[0], y: first.at[1] }));
});
page.querySelector("[data-whole]").addEventListener("click", () => stage.whole());
stage.root.addEventListener("stage:closer", (event) => {
  page.querySelector("[data-whole]").disabled = event.detail === 1;
});
stage.onRedraw(() => {
  const chosen = measures.filter(({ name }) => shown.has(name));
  drawLines(stage, chosen);
  // On a phone the names stand in the list.
  const roomy = stage.box.width > 500;
  drawWords(stage, chosen.map(({ label, value, at }) => ({ text: roomy ? `${label} ${value}` : value, at })), covered);
});
show();
page.dataset.ready = "1";
