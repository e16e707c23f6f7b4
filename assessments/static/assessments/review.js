// A mentor's review: a comment pinned to a spot, and the button that names the outcome.
"use strict";

import { drawComments } from "../shared/js/marks.js";
import { stage } from "./marked.js";

const form = document.querySelector("[data-comment]");
if (form) pinComments();

function pinComments() {
  const spot = form.querySelector("[data-spot]");
  const unpin = form.querySelector("[data-unpin]");

  stage.onTap = ({ x, y }) => {
    form.elements.x.value = x.toFixed(5);
    form.elements.y.value = y.toFixed(5);
    show();
    form.elements.text.focus();
  };
  unpin.addEventListener("click", () => {
    form.elements.x.value = "";
    form.elements.y.value = "";
    show();
  });
  stage.onRedraw(() => {
    const [x, y] = [form.elements.x.value, form.elements.y.value];
    if (x) drawComments(stage, [{ x: Number(x), y: Number(y), name: "…" }]);
  });
  show();

  function show() {
    const pinned = Boolean(form.elements.x.value);
    spot.textContent = pinned ? spot.dataset.some : spot.dataset.none;
    unpin.hidden = !pinned;
    stage.redraw();
  }
}

const back = document.querySelector("[data-return]");
const outcome = back?.querySelector("[data-outcome]");
back?.elements.points.addEventListener("input", () => {
  const mark = Number(back.dataset.points) + Number(back.elements.points.value || 0);
  outcome.textContent = outcome.dataset.outcome.replace("{mark}", mark.toFixed(1).replace("-", "−"));
});
