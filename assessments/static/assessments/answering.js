// What every page does on which an item is answered, whatever its kind. The page of a preview keeps nothing.
"use strict";

import { Keeper } from "../shared/js/keeping.js";
import { KeptPage } from "./kept_page.js";

const NOT_KEPT = { left: () => null, keep: () => {}, forget: () => {}, send: async () => true, seen: 0 };

export class Answering extends KeptPage {
  // `isBlank` says of the present content whether nothing is answered yet.
  constructor({ take, isBlank }) {
    const ask = JSON.parse(document.getElementById("ask").textContent);
    super(document.getElementById("answering"), {
      start: ask,
      take: (content) => {
        take(content);
        this.showBlank();
      },
    });
    Object.assign(this, { ask, isBlank });
    this.keeper = this.page.dataset.save ? this.keepsAt(this.page.dataset) : NOT_KEPT;
    for (const form of this.page.querySelectorAll("[data-hand-in-form]")) {
      form.addEventListener("submit", (event) => this.handIn(event));
    }
  }

  keepsAt({ save, store, token }) {
    return new Keeper({
      address: save,
      store: `answer:${store}`,
      token,
      revision: this.ask.revision,
      onState: (state, said) => this.showState(state, said),
    });
  }

  begin() {
    super.begin();
    this.showBlank();
  }

  keep(content) {
    this.keeper.keep(content);
    this.showBlank();
  }

  showBlank() {
    for (const button of this.page.querySelectorAll("[data-hand-in]")) {
      button.setAttribute("aria-disabled", String(this.isBlank()));
    }
  }

  showState(state, said) {
    const text = this.stateInWords(state, said, this.say("handedIn"));
    for (const place of this.page.querySelectorAll("[data-state]")) place.textContent = text;
    this.showTrouble(state, said, text);
    if (state === "handed in") {
      this.keeper.forget();
      location.reload();
    }
  }

  handIn(event) {
    event.preventDefault();
    if (this.isBlank()) this.announce(this.say("blank"));
    else this.send(event.target);
  }
}
