// A paper that is being sat: the time that is left, and leaving an item only once its answer is saved.
"use strict";

const place = document.querySelector("[data-left]");
const SAID_AT = [10, 5, 1]; // minutes left at which a screen reader is told
const TURN = 1000;
const ASK_AGAIN = 120_000;

// Everything that keeps an answer on this page says when it has nothing left to send.
function settled() {
  const waits = [];
  document.dispatchEvent(new CustomEvent("keeping:settle", { detail: waits }));
  return Promise.all(waits);
}

document.addEventListener("click", async (event) => {
  const link = event.target.closest("a[data-go]");
  if (!link || event.defaultPrevented || event.button || event.ctrlKey || event.metaKey || event.shiftKey) return;
  event.preventDefault();
  const fine = (await settled()).every(Boolean);
  // What could not be sent is said on the page and kept on the device; pressed again, the link is followed.
  if (fine || link.dataset.tried) location.assign(link.href);
  link.dataset.tried = "1";
});

if (place) {
  const words = JSON.parse(document.getElementById("clock-words").textContent);
  const shown = document.querySelector("[data-minutes]");
  const spoken = document.querySelector("[data-time-said]");
  const over = document.querySelector("[data-time-over]");
  let end = Date.now() + Number(place.dataset.left) * 1000;
  let said = Infinity;
  let asked = Date.now();
  let ended = false;

  const minutesLeft = () => Math.max(0, Math.ceil((end - Date.now()) / 60_000));
  const inWords = (minutes) => (minutes === 1 ? words.minute : words.minutes.replace("{n}", minutes));
  said = minutesLeft();

  async function resync() {
    asked = Date.now();
    try {
      const response = await fetch(place.dataset.clock, { redirect: "manual" });
      if (response.ok) end = Date.now() + (await response.json()).left * 1000;
    } catch {
      // No connection: this device's own clock goes on.
    }
    turn();
  }

  function turn() {
    const minutes = minutesLeft();
    if (minutes > 0 && shown.textContent !== inWords(minutes)) shown.textContent = inWords(minutes);
    const due = SAID_AT.find((at) => minutes <= at && said > at && minutes > 0);
    if (due) spoken.textContent = inWords(minutes);
    said = minutes;
    if (Date.now() >= end && !ended) timeIsOver();
  }

  async function timeIsOver() {
    ended = true;
    shown.textContent = inWords(0);
    const sent = (await settled()).every(Boolean);
    over.firstElementChild.textContent = sent || navigator.onLine ? words.over : words.lost;
    over.hidden = false;
    over.focus();
    if (sent) setTimeout(() => location.assign(place.dataset.front), 4000);
  }

  setInterval(() => (Date.now() - asked > ASK_AGAIN ? resync() : turn()), TURN);
  document.addEventListener("visibilitychange", () => document.hidden || resync());
  window.addEventListener("online", resync);
  window.addEventListener("pageshow", (event) => event.persisted && location.reload());
}
