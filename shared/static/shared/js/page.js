// What every page does: say when a request was lost, take the focus to what needs mending, keep presses single.
"use strict";

document.addEventListener("htmx:sendError", () => showLost(true));
document.addEventListener("htmx:responseError", () => showLost(true));
document.addEventListener("htmx:afterOnLoad", () => showLost(false));

function showLost(lost) {
  const notice = document.getElementById("lost");
  if (notice) notice.hidden = !lost;
}

function focusMend(root) {
  const mend = root.querySelector("[data-takes-focus]");
  if (mend) mend.focus();
}
document.addEventListener("htmx:afterSettle", (event) => focusMend(event.target));

// A form is sent once, however often its button is pressed. Going back lets it be sent again.
document.addEventListener("submit", (event) => {
  const form = event.target;
  if (event.defaultPrevented || form.hasAttribute("hx-post") || form.method !== "post") return;
  if (form.dataset.sent) {
    event.preventDefault();
    return;
  }
  form.dataset.sent = "1";
  if (form.hasAttribute("data-clear-device")) {
    for (const key of Object.keys(localStorage)) if (key.startsWith("standpoint:")) localStorage.removeItem(key);
  }
});
window.addEventListener("pageshow", () => {
  for (const form of document.forms) delete form.dataset.sent;
});

// Leaving with something unsaved is asked about.
let leaving = false;
document.addEventListener("input", (event) => {
  const form = event.target.closest("[data-unsaved]");
  if (form) form.dataset.unsaved = "changed";
});
document.addEventListener("submit", (event) => {
  if (!event.target.hasAttribute("hx-post")) leaving = true;
});
window.addEventListener("beforeunload", (event) => {
  if (!leaving && document.querySelector("[data-unsaved='changed']")) event.preventDefault();
});
