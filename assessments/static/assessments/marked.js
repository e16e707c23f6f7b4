// A marked answer: key and pins on the picture; choosing a line of the ledger chooses its pin.
"use strict";

import { drawComments, drawPins, drawRegions } from "../shared/js/marks.js";
import { Stage } from "../shared/js/stage.js";

const page = document.getElementById("marked");
const detail = JSON.parse(document.getElementById("detail").textContent);
const comments = JSON.parse(document.getElementById("comments").textContent);
const pins = detail.marks.map((mark, index) => ({ ...mark, number: index + 1 }));
const rows = [...page.querySelectorAll(".ledger tbody")];
const shown = { key: true, comments: true };
let chosen = null;
let entry = null;

const stage = new Stage(page.querySelector("[data-stage]"));
stage.onRedraw(() => {
  if (shown.key) drawRegions(stage, detail.entries.filter((each) => each.regions.length), { chosen: entry });
  drawPins(stage, pins, { chosen, onChoose: choosePin, describe: (pin) => `${pin.number}, ${pin.name ?? ""}` });
  if (shown.comments) drawComments(stage, comments);
});

function choosePin(index) {
  chooseRow(rows.find((row) => row.dataset.pin === String(index + 1)));
}

function chooseRow(row) {
  rows.forEach((each) => each.classList.toggle("ledger-chosen", each === row));
  chosen = row?.dataset.pin ? Number(row.dataset.pin) - 1 : null;
  entry = row?.dataset.letter ? detail.entries.find((each) => each.letter === row.dataset.letter) : null;
  stage.redraw();
}

for (const row of rows) {
  row.addEventListener("click", () => chooseRow(row));
}
for (const box of page.querySelectorAll("[data-show]")) {
  box.addEventListener("change", () => {
    shown[box.dataset.show] = box.checked;
    stage.redraw();
  });
}
page.querySelector("[data-closer]").addEventListener("click", () => stage.closer(1.6));
page.querySelector("[data-whole]").addEventListener("click", () => stage.whole());
page.dataset.ready = "1";
export { shown, stage };
