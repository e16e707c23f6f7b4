// What every page does on which a key is drawn up, whatever its kind: what is missing, what is better thought over,
// where it departs from its panel, and publishing.
"use strict";

import { Keeper } from "../shared/js/keeping.js";
import { KeptPage, listed } from "./kept_page.js";

export class Keying extends KeptPage {
  // `onWrong` shows what the server refused, as pairs of an entry's place and words.
  constructor({ take, onWrong = () => {} }) {
    const known = JSON.parse(document.getElementById("drawn-up").textContent);
    super(document.getElementById("key"), { start: known, take });
    Object.assign(this, { known, onWrong });
    const { save, store, token, draft } = this.page.dataset;
    this.keeper = new Keeper({
      address: save,
      store: `key:${store}`,
      token,
      revision: known.revision,
      onState: (state, said) => this.showState(state, said),
      besides: { draft: Number(draft) },
    });
    this.find("[data-publish-form]").addEventListener("submit", (event) => this.publish(event));
    this.find("[data-discard-form]")?.addEventListener("submit", () => this.keeper.forget());
  }

  begin() {
    super.begin();
    if (this.keeper.waiting) this.find("[data-state]").textContent = this.say("saving");
  }

  keep(content) {
    this.find("[data-state]").textContent = this.say("saving");
    this.keeper.keep(content);
  }

  // What is still missing before the draft can be published, as words; nothing: it can be.
  showMissing(missing) {
    this.find("[data-missing]").hidden = !missing.length;
    this.find("[data-missing-list]").replaceChildren(...listed(missing));
    this.find("[data-publish]").setAttribute("aria-disabled", String(missing.length > 0));
  }

  // What may stand, but is better thought over.
  showWarned(warned) {
    this.find("[data-warned]")?.replaceChildren(...listed(warned, "entry-warning"));
  }

  // Where the draft departs from its panel, as the server has it after a save.
  showDepartures(departs) {
    const box = this.find("[data-departures]");
    if (!box) return;
    box.hidden = !departs.length;
    const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);
    this.find("[data-departures-list]").replaceChildren(...listed(departs.map(capital)));
  }

  showState(state, said) {
    const text = this.stateInWords(state, said, `${said.error} ${this.say("gone")}`);
    if (state === "saved") {
      if (said.departs) this.showDepartures(said.departs);
      if (!this.keeper.waiting) this.find("[data-state]").textContent = text;
      this.showWarned(said.warned ?? []);
    }
    this.showTrouble(state, said, text);
    if (state === "refused") this.onWrong(said.wrong ?? []);
  }

  publish(event) {
    event.preventDefault();
    if (this.find("[data-publish]").getAttribute("aria-disabled") === "true") {
      this.find("[data-missing]").scrollIntoView({ block: "center" });
      this.announce(this.find("[data-missing]").textContent.trim());
    } else {
      this.send(event.target);
    }
  }
}
