// Keeps what someone enters: on the device at once, on the server soon, each save once. What another window
// saved is never overwritten without asking. `store` names the place on the device, `besides` is what every save
// says with its content.
"use strict";

const PAUSE = 500;
const AGAIN = 4000;

export class Keeper {
  constructor({ address, store, token, revision, onState, besides = {} }) {
    Object.assign(this, { address, store: `standpoint:${store}`, token, seen: revision, onState, besides });
    this.waiting = null;
    this.timer = null;
    this.sending = false;
    this.sent = []; // identities whose fate is not known: their answer may have been lost on the way
    window.addEventListener("online", () => this.send());
    document.addEventListener("visibilitychange", () => document.hidden && this.send());
    // Whoever wants to leave the page asks when nothing is left to send.
    document.addEventListener("keeping:settle", (event) => event.detail.push(this.send()));
  }

  // What this device kept and the server has not acknowledged, if anything.
  left() {
    try {
      return JSON.parse(localStorage.getItem(this.store));
    } catch {
      return null;
    }
  }

  keep(content, since = new Date().toISOString()) {
    this.waiting = { content, seen: this.seen, identity: identity(), since: this.waiting?.since ?? since, sent: this.sent };
    this.keepOnDevice();
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.send(), PAUSE);
  }

  keepOnDevice() {
    try {
      localStorage.setItem(this.store, JSON.stringify(this.waiting));
    } catch {
      // A full or forbidden store: the server still gets every save.
    }
  }

  // Go on from what this device kept; `last` is the newest save that the server holds, at `revision`.
  resume(left, last, revision) {
    this.sent = left.sent ?? [];
    this.seen = this.sent.includes(last) ? revision : left.seen;
    this.keep(left.content, left.since);
  }

  forget() {
    clearTimeout(this.timer);
    this.waiting = null;
    this.sent = [];
    localStorage.removeItem(this.store);
  }

  // Resolves true once nothing is left to send.
  async send() {
    if (this.sending) return this.sending;
    if (!this.waiting) return true;
    clearTimeout(this.timer);
    this.sending = this.post(this.waiting);
    const fine = await this.sending;
    this.sending = false;
    if (fine && this.waiting) return this.send();
    return fine;
  }

  async post(saving) {
    let response;
    this.sent.push(saving.identity);
    this.keepOnDevice();
    try {
      response = await fetch(this.address, {
        method: "POST",
        headers: { "Content-Type": "application/json", "X-CSRFToken": this.token },
        body: JSON.stringify({ ...this.besides, content: saving.content, identity: saving.identity, seen: this.seen }),
        redirect: "manual",
      });
    } catch {
      return this.lost(saving);
    }
    if (response.type === "opaqueredirect") return this.tell("signed out", saving);
    if (response.status >= 500) return this.lost(saving);
    return this.answered(response, saving);
  }

  async answered(response, saving) {
    const said = await response.json().catch(() => ({}));
    if (response.status === 409 && this.sent.includes(said.last)) return this.insist(said.revision, saving);
    if (response.status === 409) return this.tell("overtaken", said);
    if (response.status === 410) return this.tell("handed in", said);
    if (!response.ok) return this.tell("refused", said);
    this.seen = said.revision;
    this.sent = [];
    if (this.waiting) this.waiting.sent = this.sent;
    if (this.waiting === saving) this.forget();
    else this.keepOnDevice();
    this.onState("saved", said);
    return true;
  }

  lost(saving) {
    this.timer = setTimeout(() => this.send(), AGAIN);
    return this.tell("no connection", saving);
  }

  tell(state, said) {
    this.onState(state, said);
    return false;
  }

  // What is here is to stand, on top of what the server holds: a save of this page whose answer was lost, or
  // after "overtaken" what another window saved.
  insist(revision, saving = null) {
    this.seen = revision;
    return saving ? this.post(saving) : this.send();
  }
}

function identity() {
  if (crypto.randomUUID) return crypto.randomUUID();
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 0x0f) | 0x40;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return hex.replace(/(.{8})(.{4})(.{4})(.{4})(.{12})/, "$1-$2-$3-$4-$5");
}
