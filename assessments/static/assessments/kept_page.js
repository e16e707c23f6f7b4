// A page whose content is kept as one goes, answer or key: says how keeping stands, goes on from what the device kept,
// lets its reader choose between two windows, and sends its form only once nothing is left to send.
"use strict";

export class KeptPage {
  // `start` is where the content stands, as the server has it; `take` shows a content that comes from elsewhere
  // (another window, this device).
  constructor(page, { start, take }) {
    this.page = page;
    this.words = JSON.parse(document.getElementById("words").textContent);
    Object.assign(this, { start, take });
  }

  // To be called once the page can show a content.
  begin() {
    const left = this.keeper.left();
    if (left && JSON.stringify(left.content) !== JSON.stringify(this.start.content)) {
      this.take(left.content);
      this.keeper.resume(left, this.start.last, this.start.revision);
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

  // How keeping stands, in words; `ended` says that nothing can be kept here any more.
  stateInWords(state, said, ended) {
    const clock = (iso) => new Date(iso).toTimeString().slice(0, 5);
    return {
      saved: () => this.say("saved", { at: said.saved_at }),
      "no connection": () => this.say("offline", { at: clock(said.since) }),
      "signed out": () => this.say("signedOut"),
      refused: () => `${said.error} ${this.say("kept")}`,
      "handed in": () => ended,
      overtaken: () => "",
    }[state]();
  }

  showTrouble(state, said, text) {
    this.find("[data-trouble]").hidden = state === "saved" || state === "overtaken";
    this.find("[data-trouble]").textContent = text;
    this.find("[data-overtaken]").hidden = state !== "overtaken";
    if (state === "overtaken") this.offerBoth(said);
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

  async send(form) {
    if (form.dataset.going) return;
    form.dataset.going = "1";
    if (await this.keeper.send()) {
      this.keeper.forget();
      form.seen.value = this.keeper.seen;
      form.submit();
    } else {
      delete form.dataset.going;
    }
  }
}

export function listed(texts, className = "") {
  return texts.map((textContent) => Object.assign(document.createElement("li"), { textContent, className }));
}
