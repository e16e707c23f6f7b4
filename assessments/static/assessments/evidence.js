// One item's evidence: every pin on the exhibit over the key; choosing a fault shows its pins alone.
"use strict";

import { drawDots, drawRegions } from "../shared/js/marks.js";
import { Stage } from "../shared/js/stage.js";

const page = document.getElementById("room");
const pins = JSON.parse(document.getElementById("pins").textContent).map(([x, y, place]) => ({ x, y, place }));
const regions = JSON.parse(document.getElementById("regions").textContent);
const sections = [...page.querySelectorAll("[data-place]")];
const shown = { key: true, pins: true };
let chosen = null;

const stage = new Stage(page.querySelector("[data-stage]"));
stage.onRedraw(() => {
  if (shown.key) drawRegions(stage, regions, { chosen: regions[chosen?.dataset.place] });
  if (shown.pins) drawDots(stage, pins.filter(wanted));
});

function wanted({ place }) {
  return chosen === null || chosen.dataset.place === String(place ?? "none");
}

function choose(section) {
  chosen = section === chosen ? null : section;
  for (const each of sections) {
    each.classList.toggle("seen-chosen", each === chosen);
    each.querySelector(".seen-choose")?.setAttribute("aria-pressed", String(each === chosen));
  }
  stage.redraw();
}

for (const section of sections) {
  section.querySelector(".seen-choose")?.addEventListener("click", () => choose(section));
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
