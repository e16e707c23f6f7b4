// The item bank: tick all of a page, and say how many are ticked.
"use strict";

function wire() {
  const form = document.querySelector("[data-bank]");
  if (!form || form.dataset.wired) return;
  form.dataset.wired = "1";
  const boxes = [...form.querySelectorAll('[name="item"]')];
  const all = document.querySelector("[data-all]");
  const count = form.querySelector("[data-count]");
  all.closest("label").hidden = false;

  function show() {
    const n = boxes.filter((box) => box.checked).length;
    count.textContent = n ? count.dataset.some.replace("{n}", n) : count.dataset.none;
    all.checked = n === boxes.length;
  }
  form.addEventListener("change", show);
  all.addEventListener("change", () => {
    for (const box of boxes) box.checked = all.checked;
    show();
  });
  show();
}

document.addEventListener("htmx:afterSettle", wire);
wire();
