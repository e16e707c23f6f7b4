// Drawing up the key of placed points: each point's place and spread, taken from those who placed it or settled here.
"use strict";

import { Placing } from "../courses/placing.js";
import { Keying } from "./keying.js";
import { drawKeyPoints } from "./placed.js";

const keying = new Keying({ take, onWrong: () => {} });
const { page, known } = keying;
const say = (word, values) => keying.say(word, values);
const find = (selector) => keying.find(selector);
const spread = find("[data-spread]");
let { content } = known;

const placing = new Placing(page, {
  ask: known,
  points: placesOf(content),
  say,
  onChange: (name) => changed(name),
  onShow: showChosen,
});

function placesOf({ points }) {
  return Object.fromEntries(Object.entries(points).map(([name, { place }]) => [name, place]));
}

function changed(name) {
  const place = placing.points[name];
  if (place === undefined) delete content.points[name];
  else content.points[name] = { spread: 0, ...content.points[name], place };
  keep();
}

function keep() {
  keying.keep(content);
  showMissing();
}

function showChosen() {
  const { name, label } = this.asked;
  const row = content.points[name];
  find("[data-spread-of]").textContent = label;
  spread.disabled = !row?.place;
  if (document.activeElement !== spread) spread.value = row?.place ? (100 * row.spread).toFixed(1) : "";
}

function showMissing() {
  const label = (name) => known.points.find((point) => point.name === name).label;
  const lacks = known.asked.filter((name) => !content.points[name]).map((point) => say("missing_place", { point: label(point) }));
  const placed = (name) => Boolean(content.points[name]?.place);
  if (!placed("withers") || !known.grounds.some(placed)) lacks.push(say("missing_height"));
  for (const name of known.asked) {
    if (placed(name) && content.points[name].spread > known.widest) lacks.push(say("missing_wide", { point: label(name) }));
  }
  keying.showMissing(lacks);
}

function take(kept) {
  content = kept;
  placing.take(placesOf(content));
  find("[data-note]").value = content.note;
  showMissing();
}

// The height at the withers in picture units, for the rings.
function height() {
  const at = (name) => content.points[name]?.place;
  const grounds = known.grounds.map(at).filter(Boolean);
  if (!at("withers") || !grounds.length) return 0;
  const [[x, y], [gx, gy]] = [at("withers"), grounds[0]];
  if (grounds.length === 1) return Math.abs(gy - y);
  const [dx, dy] = [grounds[1][0] - gx, grounds[1][1] - gy];
  return Math.abs(dx * (y - gy) - dy * (x - gx)) / (Math.hypot(dx, dy) || 1);
}

placing.stage.onRedraw(() => {
  const points = known.asked.filter((name) => content.points[name]).map((name) => ({ ...content.points[name], whole: Math.max(content.points[name].spread, known.least) }));
  drawKeyPoints(placing.stage, points, { height: height() });
});
spread.addEventListener("input", () => {
  const row = content.points[placing.asked.name];
  if (!row || spread.value === "" || !spread.validity.valid) return;
  row.spread = Number(spread.value) / 100;
  keep();
  placing.stage.redraw();
});
find("[data-take]")?.addEventListener("click", () => {
  content.points = structuredClone(known.proposal.points);
  placing.take(placesOf(content));
  keep();
  keying.announce(say("taken"));
});
find("[data-note]").value = content.note;
find("[data-note]").addEventListener("input", (event) => {
  content.note = event.target.value;
  keep();
});

showMissing();
placing.stage.redraw();
keying.begin();
