// Pictures that are only looked at: each with its Closer and Whole picture in the same block.
"use strict";

import { Stage } from "../shared/js/stage.js";

export function lookAt(root) {
  const stage = new Stage(root);
  const block = root.parentElement;
  const [closer, whole] = ["[data-closer]", "[data-whole]"].map((name) => block.querySelector(name));
  closer?.addEventListener("click", () => stage.closer(1.6));
  whole?.addEventListener("click", () => stage.whole());
  root.addEventListener("stage:closer", (event) => {
    if (whole) whole.disabled = event.detail === 1;
  });
  return stage;
}

for (const root of document.querySelectorAll("[data-stage]")) lookAt(root);
