// A published key to look at: its regions on the picture, pointed out by their lines.
"use strict";

import { drawRegions } from "../shared/js/marks.js";
import { Stage } from "../shared/js/stage.js";

const page = document.getElementById("key-version");
const entries = JSON.parse(document.getElementById("drawn").textContent);
const rows = [...page.querySelectorAll("[data-letter]")];
let showing = true;
let chosen = null;

const stage = new Stage(page.querySelector("[data-stage]"));
stage.onRedraw(() => {
  if (showing) drawRegions(stage, entries, { chosen });
});
for (const row of rows) {
  row.addEventListener("click", () => {
    const entry = entries.find(({ letter }) => letter === row.dataset.letter);
    chosen = chosen === entry ? null : entry;
    rows.forEach((each) => each.classList.toggle("entry-chosen", each === row && chosen !== null));
    stage.redraw();
  });
}
page.querySelector("[data-show]").addEventListener("change", (event) => {
  showing = event.target.checked;
  stage.redraw();
});
page.querySelector("[data-closer]").addEventListener("click", () => stage.closer(1.6));
page.querySelector("[data-whole-picture]").addEventListener("click", () => stage.whole());
page.dataset.ready = "1";
