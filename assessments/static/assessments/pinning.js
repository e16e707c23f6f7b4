// A comment pinned to a spot of the picture, in the form that keeps it.
"use strict";

import { drawComments } from "../shared/js/marks.js";

export function pinComments(form, stage) {
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
