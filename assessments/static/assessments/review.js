// A mentor's review: a comment pinned to a spot, and the button that names the outcome.
"use strict";

import { pinComments } from "./pinning.js";
import { stage } from "./marked.js";

const form = document.querySelector("[data-comment]");
if (form) pinComments(form, stage);

const back = document.querySelector("[data-return]");
const outcome = back?.querySelector("[data-outcome]");
back?.elements.points.addEventListener("input", () => {
  const mark = Number(back.dataset.points) + Number(back.elements.points.value || 0);
  outcome.textContent = outcome.dataset.outcome.replace("{mark}", mark.toFixed(1).replace("-", "−"));
});
