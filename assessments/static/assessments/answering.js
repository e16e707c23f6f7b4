// What every page does on which an item is answered, whatever its kind: keep as one goes, say how that stands, go
// on from what the device kept, choose between two windows, hand in. The page of a preview keeps nothing.
"use strict";

import { Keeper } from "../shared/js/keeping.js";

const NOT_KEPT = { left: () => null, keep: () => {}, forget: () => {}, send: async () => true, seen: 0 };

export class Answering {
  // `take` shows a content that comes from elsewhere (another window, this device); `isBlank` says of the present
  // one whether anything is answered.
  constructor({ take, isBlank }) {
    this.page = document.getElementById("answering");
    this.ask = JSON.parse(document.getElementById("ask").textContent);
    this.words = JSON.parse(document.getElementById("words").textContent);
    Object.assign(this, { take, isBlank });
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

  // To be called once the page can show a content.
  begin() {
    const left = this.keeper.left();
    if (left && JSON.stringify(left.content) !== JSON.stringify(this.ask.content)) {
      this.take(left.content);
      this.keeper.resume(left, this.ask.last, this.ask.revision);
    } else if (left) {
      this.keeper.forget();
    }
    this.showBlank();
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
    this.keeper.keep(content);
    this.showBlank();
  }

  showBlank() {
    for (const button of this.page.querySelectorAll("[data-hand-in]")) {
      button.setAttribute("aria-disabled", String(this.isBlank()));
    }
  }

  showState(state, said) {
    const clock = (iso) => new Date(iso).toTimeString().slice(0, 5);
    const text = {
      saved: () => this.say("saved", { at: said.saved_at }),
      "no connection": () => this.say("offline", { at: clock(said.since) }),
      "signed out": () => this.say("signedOut"),
      refused: () => `${said.error} ${this.say("kept")}`,
      "handed in": () => this.say("handedIn"),
      overtaken: () => "",
    }[state]();
    for (const place of this.page.querySelectorAll("[data-state]")) place.textContent = text;
    this.find("[data-trouble]").hidden = state === "saved" || state === "overtaken";
    this.find("[data-trouble]").textContent = text;
    this.find("[data-overtaken]").hidden = state !== "overtaken";
    if (state === "overtaken") this.offerBoth(said);
    if (state === "handed in") {
      this.keeper.forget();
      location.reload();
    }
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
      this.showBlank();
    };
    box.focus();
  }

  async handIn(event) {
    event.preventDefault();
    const form = event.target;
    if (this.isBlank()) return this.announce(this.say("blank"));
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
