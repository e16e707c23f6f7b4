// What every page does on which a key is drawn up, whatever its kind: keep the draft as one goes, say how that
// stands, go on from what the device kept, choose between two windows, publish.
"use strict";

import { Keeper } from "../shared/js/keeping.js";

export class Keying {
  // `take` shows a content that comes from elsewhere (another window, this device); `onWrong` shows what the server
  // refused, as pairs of an entry's place and words.
  constructor({ take, onWrong = () => {} }) {
    this.page = document.getElementById("key");
    this.known = JSON.parse(document.getElementById("drawn-up").textContent);
    this.words = JSON.parse(document.getElementById("words").textContent);
    Object.assign(this, { take, onWrong });
    const { save, store, token, draft } = this.page.dataset;
    this.keeper = new Keeper({
      address: save,
      store: `key:${store}`,
      token,
      revision: this.known.revision,
      onState: (state, said) => this.showState(state, said),
      besides: { draft: Number(draft) },
    });
    this.find("[data-publish-form]").addEventListener("submit", (event) => this.publish(event));
    this.find("[data-discard-form]")?.addEventListener("submit", () => this.keeper.forget());
  }

  // To be called once the page can show a content.
  begin() {
    const left = this.keeper.left();
    if (left && JSON.stringify(left.content) !== JSON.stringify(this.known.content)) {
      this.find("[data-state]").textContent = this.say("saving");
      this.keeper.resume(left, this.known.last, this.known.revision);
      this.take(left.content);
    } else if (left) {
      this.keeper.forget();
    }
    this.page.dataset.ready = "1";
  }

  say(word, values = {}) {
    return this.words[word].replace(/\{(\w+)\}/g, (_, name) => values[name] ?? "");
  }

  find(selector, root = this.page) {
    return root.querySelector(selector);
  }

  announce(text) {
    this.find("[data-announce]").textContent = text;
  }

  keep(content) {
    this.find("[data-state]").textContent = this.say("saving");
    this.keeper.keep(content);
  }

  // What is still missing before the draft can be published, as words; nothing: it can be.
  showMissing(missing) {
    const box = this.find("[data-missing]");
    box.hidden = !missing.length;
    this.find("[data-missing-list]").replaceChildren(
      ...missing.map((text) => Object.assign(document.createElement("li"), { textContent: text })),
    );
    this.find("[data-publish]").setAttribute("aria-disabled", String(missing.length > 0));
  }

  // What may stand, but is better thought over.
  showWarned(warned) {
    this.find("[data-warned]")?.replaceChildren(
      ...warned.map((text) => Object.assign(document.createElement("li"), { textContent: text, className: "entry-warning" })),
    );
  }

  showState(state, said) {
    const clock = (iso) => new Date(iso).toTimeString().slice(0, 5);
    const text = {
      saved: () => this.say("saved", { at: said.saved_at }),
      "no connection": () => this.say("offline", { at: clock(said.since) }),
      "signed out": () => this.say("signedOut"),
      refused: () => `${said.error} ${this.say("kept")}`,
      "handed in": () => `${said.error} ${this.say("gone")}`,
      overtaken: () => "",
    }[state]();
    if (state === "saved" && said.departs) this.showDepartures(said.departs);
    if (state === "saved" && !this.keeper.waiting) this.find("[data-state]").textContent = text;
    if (state === "saved") this.showWarned(said.warned ?? []);
    this.find("[data-trouble]").hidden = state === "saved" || state === "overtaken";
    this.find("[data-trouble]").textContent = text;
    this.find("[data-overtaken]").hidden = state !== "overtaken";
    if (state === "overtaken") this.offerBoth(said);
    if (state === "refused") this.onWrong(said.wrong ?? []);
  }

  // Where the draft departs from its panel, as the server has it after a save.
  showDepartures(departs) {
    const box = this.find("[data-departures]");
    if (!box) return;
    box.hidden = !departs.length;
    const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);
    this.find("[data-departures-list]").replaceChildren(
      ...departs.map((text) => Object.assign(document.createElement("li"), { textContent: capital(text) })),
    );
  }

  offerBoth(said) {
    const box = this.find("[data-overtaken]");
    this.find("[data-mine]", box).onclick = () => {
      box.hidden = true;
      this.keeper.insist(said.revision);
    };
    this.find("[data-theirs]", box).onclick = () => {
      box.hidden = true;
      this.keeper.forget();
      this.keeper.seen = said.revision;
      this.take(said.content);
    };
    box.focus();
  }

  async publish(event) {
    event.preventDefault();
    const form = event.target;
    if (this.find("[data-publish]").getAttribute("aria-disabled") === "true") {
      this.find("[data-missing]").scrollIntoView({ block: "center" });
      return this.announce(this.find("[data-missing]").textContent.trim());
    }
    if (form.dataset.going) return undefined;
    form.dataset.going = "1";
    if (await this.keeper.send()) {
      this.keeper.forget();
      form.seen.value = this.keeper.seen;
      return form.submit();
    }
    delete form.dataset.going;
    return undefined;
  }
}
