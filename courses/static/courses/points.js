// Placing the anatomical points of one exhibit for oneself, kept as one goes, until one says that these are they.
"use strict";

import { Keeper } from "../shared/js/keeping.js";
import { Placing } from "./placing.js";

const page = document.getElementById("placing");
const ask = JSON.parse(document.getElementById("ask").textContent);
const words = JSON.parse(document.getElementById("words").textContent);
const say = (word, values = {}) => words[word].replace(/\{(\w+)\}/g, (_, name) => values[name] ?? "");
const find = (selector, root = page) => root.querySelector(selector);

const keeper = new Keeper({
  address: page.dataset.save,
  store: page.dataset.store,
  token: page.dataset.token,
  revision: ask.revision,
  onState: showState,
});
const placing = new Placing(page, {
  ask,
  points: ask.content.points,
  say,
  onChange: () => keeper.keep({ points: placing.points }),
});

function showState(state, said) {
  const clock = (iso) => new Date(iso).toTimeString().slice(0, 5);
  const text = {
    saved: () => say("saved", { at: said.saved_at }),
    "no connection": () => say("offline", { at: clock(said.since) }),
    "signed out": () => say("signedOut"),
    refused: () => say("refused", said),
    "handed in": () => "",
    overtaken: () => "",
  }[state]();
  find("[data-state]").textContent = state === "saved" ? text : "";
  find("[data-trouble]").hidden = !text || state === "saved";
  find("[data-trouble]").textContent = text;
  find("[data-overtaken]").hidden = state !== "overtaken";
  if (state === "overtaken") offerBoth(said);
  if (state === "handed in") {
    keeper.forget();
    location.reload();
  }
}

function offerBoth(said) {
  const box = find("[data-overtaken]");
  find("[data-mine]", box).onclick = () => {
    box.hidden = true;
    keeper.insist(said.revision);
  };
  find("[data-theirs]", box).onclick = () => {
    box.hidden = true;
    keeper.forget();
    keeper.seen = said.revision;
    placing.take(said.content.points);
  };
  box.focus();
}

find("[data-finish]").addEventListener("submit", async (event) => {
  event.preventDefault();
  const form = event.target;
  if (Object.values(placing.points).filter(Boolean).length < 2) return placing.announce(say("few"));
  if (form.dataset.going) return undefined;
  form.dataset.going = "1";
  if (await keeper.send()) {
    keeper.forget();
    form.seen.value = keeper.seen;
    return form.submit();
  }
  delete form.dataset.going;
  return undefined;
});

const left = keeper.left();
if (left && JSON.stringify(left.content) !== JSON.stringify(ask.content)) {
  placing.take(left.content.points);
  keeper.resume(left, ask.last, ask.revision);
} else if (left) {
  keeper.forget();
}
page.dataset.ready = "1";
