// A published key of placed points to look at; pointing at a row names its point on the picture.
"use strict";

import { Stage } from "../shared/js/stage.js";
import { drawKeyPoints } from "./placed.js";

const page = document.getElementById("key-version");
const { rows, drawing } = JSON.parse(document.getElementById("shown").textContent);
const stage = new Stage(page.querySelector("[data-stage]"));
let chosen = null;

stage.onRedraw(() => drawKeyPoints(stage, rows, { height: drawing.height, chosen }));
for (const row of page.querySelectorAll("[data-point]")) {
  row.addEventListener("pointerenter", () => {
    chosen = rows.find(({ name }) => name === row.dataset.point);
    stage.redraw();
  });
}
page.querySelector("[data-closer]").addEventListener("click", () => stage.closer(1.6));
page.querySelector("[data-whole]").addEventListener("click", () => stage.whole());
page.dataset.ready = "1";
