// A mentor's mark: the button that returns an answer names the outcome as points are typed.
"use strict";

const back = document.querySelector("[data-return]");
const outcome = back?.querySelector("[data-outcome]");
back?.elements.points.addEventListener("input", () => {
  const mark = Number(back.dataset.points) + Number(back.elements.points.value || 0);
  outcome.textContent = outcome.dataset.outcome.replace("{mark}", mark.toFixed(1).replace("-", "−"));
});
