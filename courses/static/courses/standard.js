// The editor of a standard: split at the cursor, move with the keys, keep what is being typed.
"use strict";

// A form that stands open in a section is named with each request, so that the answer leaves it as it is.
document.addEventListener("htmx:configRequest", (event) => {
  if (event.detail.verb !== "post") return;
  const own = event.target.closest("[data-open]");
  const open = [...document.querySelectorAll("[data-open]")].filter((form) => form !== own);
  if (open.length) event.detail.parameters.open = open.map((form) => form.dataset.open);
});

// "Split" sets the empty line itself, at the cursor.
function wordingBeside(button) {
  return button.closest("details, form").querySelector("textarea.wording");
}

function nameSplitButtons(root) {
  for (const button of root.querySelectorAll("[data-split]")) button.textContent = button.dataset.split;
}

document.addEventListener(
  "click",
  (event) => {
    const button = event.target.closest("[data-split]");
    if (!button) return;
    const box = wordingBeside(button);
    const at = box.selectionStart;
    if (/\n\s*\n/.test(box.value.trim()) || !box.value.slice(0, at).trim() || !box.value.slice(at).trim()) return;
    box.setRangeText("\n\n", at, at, "end");
  },
  true,
);

document.addEventListener("DOMContentLoaded", () => nameSplitButtons(document));
document.addEventListener("htmx:load", (event) => nameSplitButtons(event.target));

// A new clause that is not wanted after all goes without asking the server.
document.addEventListener("click", (event) => {
  const form = event.target.closest("[data-leave]")?.closest("[data-open^='new-']");
  if (!form || !document.getElementById("sections")) return;
  event.preventDefault();
  const add = document.getElementById(`add-${form.dataset.open.slice(4)}`);
  form.remove();
  add?.focus();
});

// Alt with an arrow key moves the clause that has the focus.
document.addEventListener("keydown", (event) => {
  const way = { ArrowUp: "up", ArrowDown: "down" }[event.key];
  if (!event.altKey || !way || event.target.closest("input, textarea, select")) return;
  const button = event.target.closest(".entry")?.querySelector(`[id^="${way}-"]`);
  if (!button) return;
  event.preventDefault();
  button.click();
});

// What was typed in the review is seen when its fields are closed again.
document.addEventListener(
  "toggle",
  (event) => {
    if (!event.target.matches(".review-fields") || event.target.open) return;
    const box = event.target.querySelector("textarea");
    if (box.value === box.defaultValue) return;
    const words = document.createElement("p");
    words.textContent = box.value;
    const clause = event.target.closest(".entry").querySelector(".clause");
    clause.replaceChildren(clause.querySelector(".clause-number"), words);
  },
  true,
);

// Once the focus has been taken, it is not taken again when the surroundings are set anew.
document.addEventListener("htmx:afterSettle", () => {
  for (const taken of document.querySelectorAll("[autofocus]")) taken.removeAttribute("autofocus");
});
