// A critique that was handed in: a mentor's comments on the picture, where it is one picture.
"use strict";

import { drawComments } from "../shared/js/marks.js";
import { Stage } from "../shared/js/stage.js";

const page = document.getElementById("marked");
const comments = JSON.parse(document.getElementById("comments").textContent);
const place = page.querySelector("[data-stage]");
const stage = place && new Stage(place);

if (stage) {
  const box = page.querySelector('[data-show="comments"]');
  stage.onRedraw(() => {
    if (!box || box.checked) drawComments(stage, comments);
  });
  box?.addEventListener("change", () => stage.redraw());
  page.querySelector("[data-closer]").addEventListener("click", () => stage.closer(1.6));
  page.querySelector("[data-whole]").addEventListener("click", () => stage.whole());
  stage.redraw();
}
page.dataset.ready = "1";
export { stage };
