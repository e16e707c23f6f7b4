// Several pictures, one of them large at a time.
"use strict";

import { lookAt } from "./looking.js";

export class Looks {
  constructor(root, { onLook = () => {} } = {}) {
    this.root = root;
    this.onLook = () => {};
    this.shown = null;
    for (const button of root.querySelectorAll("[data-show-look]")) {
      button.addEventListener("click", () => this.look(button.dataset.showLook));
    }
    this.look(root.querySelector("[data-show-look]").dataset.showLook);
    this.onLook = onLook;
  }

  look(exhibit) {
    if (String(exhibit) === this.shown) return;
    this.shown = String(exhibit);
    for (const view of this.root.querySelectorAll("[data-look]")) view.hidden = view.dataset.look !== this.shown;
    for (const button of this.root.querySelectorAll("[data-show-look]")) {
      button.setAttribute("aria-pressed", String(button.dataset.showLook === this.shown));
    }
    this.onLook(this.shown);
  }
}

const root = document.querySelector("[data-looks][data-alone]");
if (root) new Looks(root);
