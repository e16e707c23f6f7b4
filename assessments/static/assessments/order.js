// Rows in order: with the focus in a row, Alt and an arrow key move it, as its buttons do.
"use strict";

document.addEventListener("keydown", (event) => {
  const row = event.target.closest("[data-order] [data-row]");
  if (!row || !event.altKey || !["ArrowUp", "ArrowDown"].includes(event.key)) return;
  event.preventDefault();
  const button = row.querySelector(event.key === "ArrowUp" ? "[data-up]" : "[data-down]");
  button.focus();
  button.click();
});
