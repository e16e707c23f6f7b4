// A password can be read while it is typed; it is hidden again before the form is sent.
"use strict";

for (const button of document.querySelectorAll("[data-shows]")) {
  const field = document.getElementById(button.dataset.shows);
  const show = button.textContent;
  const set = (shown) => {
    field.type = shown ? "text" : "password";
    button.textContent = shown ? button.dataset.hide : show;
  };
  button.hidden = false;
  button.addEventListener("click", () => {
    set(field.type === "password");
    field.focus();
  });
  field.form.addEventListener("submit", () => set(false));
}
