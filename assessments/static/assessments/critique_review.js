// A mentor marks a critique: comments pinned to the picture, and the mark that the rubric gives as it is filled in.
"use strict";

import { stage } from "./critique_marked.js";
import { pinComments } from "./pinning.js";

const comment = document.querySelector("[data-comment]");
if (comment && stage) pinComments(comment, stage);
if (comment && !stage) comment.querySelector("[data-spot]").textContent = "";

const form = document.querySelector("[data-rubric]");
if (form) {
  const parts = [...form.querySelectorAll("[data-share]")];
  const outcome = form.querySelector("[data-outcome]");
  const usual = outcome.textContent;

  const show = () => {
    const levels = parts.map((part) => form.elements[part.dataset.share]?.value);
    if (levels.some((level) => level === "" || level === undefined)) return (outcome.textContent = usual);
    const whole = parts.reduce((sum, part) => sum + Number(part.dataset.weight), 0);
    const won = parts.reduce(
      (sum, part, place) => sum + (Number(part.dataset.weight) * Number(levels[place])) / Number(part.dataset.top),
      0,
    );
    return (outcome.textContent = outcome.dataset.outcome.replace("{mark}", ((100 * won) / whole + 1e-9).toFixed(1)));
  };
  form.addEventListener("change", show);
  show();
}
