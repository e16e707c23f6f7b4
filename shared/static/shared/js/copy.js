// A button that copies the text of a field, where the browser lets it; the field selects itself whole in any case.
"use strict";

for (const button of document.querySelectorAll("[data-copies]")) {
  const field = document.getElementById(button.dataset.copies);
  const status = document.getElementById(`${button.dataset.copies}-copied`);
  field.addEventListener("focus", () => field.select());
  if (!navigator.clipboard) continue;
  button.hidden = false;
  button.addEventListener("click", async () => {
    await navigator.clipboard.writeText(field.value);
    status.textContent = button.dataset.copied;
  });
}
