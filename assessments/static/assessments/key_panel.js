// What a panel agrees on, over the exhibit: regions for the key, what some saw, and each panellist's own outlines.
"use strict";

import { drawRegions } from "../shared/js/marks.js";
import { Stage } from "../shared/js/stage.js";

const page = document.getElementById("key-panel");
const groups = JSON.parse(document.getElementById("drawn").textContent);
const rows = [...page.querySelectorAll("li[data-letter]")];
const showing = { key: true, some: true, own: true };
let chosen = null;

const stage = new Stage(page.querySelector("[data-stage]"));
stage.onRedraw(() => {
  const shown = groups.filter((group) => showing[group.style]);
  const own = chosen ? [chosen] : groups;
  if (showing.own) drawRegions(stage, own.map(({ own: regions }) => ({ regions, style: "panel" })));
  drawRegions(stage, shown, { chosen });
});

function choose(letter) {
  const group = groups.find((each) => each.letter === letter);
  chosen = chosen === group ? null : group;
  for (const row of rows) {
    const here = chosen !== null && row.dataset.letter === letter;
    row.classList.toggle("entry-chosen", here);
    row.querySelector("button").setAttribute("aria-pressed", String(here));
  }
  stage.redraw();
}

for (const row of rows) row.addEventListener("click", () => choose(row.dataset.letter));
for (const box of page.querySelectorAll("[data-show]")) {
  box.addEventListener("change", () => {
    showing[box.dataset.show] = box.checked;
    stage.redraw();
  });
}
page.querySelector("[data-closer]").addEventListener("click", () => stage.closer(1.6));
page.querySelector("[data-whole-picture]").addEventListener("click", () => stage.whole());
page.dataset.ready = "1";
