// What lies on a picture: pins with their tabs, key regions with their letters, a mentor's comments.
// Every line is a pair, ink or blue with a casing of paper, since no single line holds on every coat.
"use strict";

import { isInside } from "./outlines.js";
import { draw } from "./stage.js";

const RING = 7;
const TAB = 26;
const REACH = [62, 80, 98, 120];

export function centre(polygons) {
  // Of the largest polygon: a letter's leader starts there.
  const area = (p) => Math.abs(p.reduce((sum, [x, y], i) => sum + x * p[(i + 1) % p.length][1] - p[(i + 1) % p.length][0] * y, 0));
  const largest = [...polygons].sort((a, b) => area(b) - area(a))[0];
  const mean = (axis) => largest.reduce((sum, point) => sum + point[axis], 0) / largest.length;
  return { x: mean(0), y: mean(1) };
}

export function pathOf(stage, polygon) {
  const spots = polygon.map(([x, y]) => stage.toScreen({ x, y }));
  return `M${spots.map(({ x, y }) => `${x.toFixed(1)} ${y.toFixed(1)}`).join("L")}Z`;
}

let patterns = 0;

function hatching(svg) {
  const id = `hatch-${(patterns += 1)}`;
  const pattern = draw("pattern", { id, width: 9, height: 9, patternUnits: "userSpaceOnUse", patternTransform: "rotate(45)" });
  pattern.append(
    draw("line", { x1: 2, y1: 0, x2: 2, y2: 9, class: "hatch-paper" }),
    draw("line", { x1: 4, y1: 0, x2: 4, y2: 9, class: "hatch-ink" }),
  );
  svg.append(pattern);
  return `url(#${id})`;
}

export function drawRegions(stage, entries, { chosen = null, letters = true } = {}) {
  // entries: [{letter, regions: [[[x, y], …], …], style: "key" | "some" | "panel" | "edit"}]
  const fill = hatching(stage.lines);
  for (const entry of entries) {
    if (!entry.regions.length) continue;
    const d = entry.regions.map((polygon) => pathOf(stage, polygon)).join("");
    const style = entry.style ?? "key";
    if (style === "key" || style === "edit") stage.lines.append(draw("path", { d, fill, class: "region-hatch" }));
    if (style !== "panel") stage.lines.append(draw("path", { d, class: "casing region-casing" }));
    const marked = entry === chosen ? " region-chosen" : "";
    stage.lines.append(draw("path", { d, class: `region region-${style}${marked}` }));
    if (letters && entry.letter) drawLetter(stage, entry, entries);
  }
}

function drawLetter(stage, entry, entries) {
  const from = stage.toScreen(centre(entry.regions));
  const lies = (spot) => entries.some(({ regions }) => regions.some((outline) => isInside(outline, stage.toPicture(spot))));
  const covered = ({ x, y }) => [[0, 0], [-12, 0], [12, 0], [0, -12], [0, 12]].some(([dx, dy]) => lies({ x: x + dx, y: y + dy }));
  const place = emptySpot(stage, from, 24, [70, 90, 112, 140, 180], covered);
  stage.taken.push(place);
  const line = { x1: from.x, y1: from.y, x2: place.x, y2: place.y };
  stage.lines.append(draw("line", { ...line, class: "casing leader-casing" }), draw("line", { ...line, class: "leader" }));
  const text = draw("text", { x: place.x, y: place.y + 7, class: "letter", "text-anchor": "middle" });
  text.textContent = entry.letter;
  stage.lines.append(draw("circle", { cx: place.x, cy: place.y, r: 13, class: "letter-ground" }), text);
}

export function drawPins(stage, pins, { chosen = null, onChoose = null, onMove = null, describe = null } = {}) {
  // pins: [{x, y, number, name}]; a pin of the whole dog has no spot and no tab on the picture.
  const buttons = [];
  pins.forEach((pin, index) => {
    if (pin.x === null) return;
    const at = stage.toScreen(pin);
    const { width, height } = stage.box;
    const place = emptySpot(stage, at, TAB + 4, REACH);
    stage.taken.push(place, { ...at, size: 20 });
    const seen = at.x >= 0 && at.y >= 0 && at.x <= width && at.y <= height;
    if (!seen) return;
    drawRing(stage, at, place, index === chosen);
    buttons.push(tab(pin, index, place, index === chosen, onChoose, describe));
    if (onMove) stage.lines.append(handle(stage, at, index, onChoose, onMove));
  });
  keepFocus(stage.tabs, buttons);
}

function keepFocus(holder, buttons) {
  const focused = holder.contains(document.activeElement) ? document.activeElement.dataset.pin : null;
  holder.replaceChildren(...buttons);
  if (focused !== null) holder.querySelector(`[data-pin="${focused}"]`)?.focus({ preventScroll: true });
}

function drawRing(stage, at, place, chosen) {
  const apart = Math.hypot(place.x - at.x, place.y - at.y) || 1;
  const start = { x1: at.x + ((place.x - at.x) / apart) * RING, y1: at.y + ((place.y - at.y) / apart) * RING };
  const line = { ...start, x2: place.x, y2: place.y };
  stage.lines.append(draw("line", { ...line, class: "casing leader-casing" }), draw("line", { ...line, class: "pin-leader" }));
  const rings = chosen ? [13, RING] : [RING];
  for (const r of rings) {
    const ring = { cx: at.x, cy: at.y, r };
    stage.lines.append(draw("circle", { ...ring, class: "casing" }), draw("circle", { ...ring, class: "pin-ring" }));
  }
}

function tab(pin, index, place, chosen, onChoose, describe) {
  const button = document.createElement("button");
  button.type = "button";
  button.className = `pin-tab${chosen ? " pin-tab-chosen" : ""}`;
  button.textContent = pin.number;
  button.dataset.pin = index;
  button.style.left = `${place.x}px`;
  button.style.top = `${place.y}px`;
  button.setAttribute("aria-label", describe ? describe(pin, index) : String(pin.number));
  button.setAttribute("aria-pressed", String(chosen));
  if (onChoose) button.addEventListener("click", () => onChoose(index));
  return button;
}

function handle(stage, at, index, onChoose, onMove) {
  const grip = draw("circle", { cx: at.x, cy: at.y, r: 22, class: "pin-grip" });
  grip.addEventListener("pointerdown", (event) => {
    event.stopPropagation();
    event.preventDefault();
    const mover = (move) => onMove(index, stage.toPicture(stage.spotOf(move)), false);
    const end = (last) => {
      window.removeEventListener("pointermove", mover);
      onMove(index, stage.toPicture(stage.spotOf(last)), true);
    };
    onChoose?.(index);
    window.addEventListener("pointermove", mover);
    window.addEventListener("pointerup", end, { once: true });
  });
  return grip;
}

// Where a tab or letter may stand: the nearest empty paper that nothing else has taken.
// `covered` tells of spots that are drawn over.
export function emptySpot(stage, from, size, reaches, covered = () => false) {
  const { width, height } = stage.box;
  const edge = size / 2 + 8;
  let best = null;
  for (const reach of reaches.map((r) => Math.min(r, width * 0.3))) {
    for (let turn = 0; turn < 24; turn += 1) {
      const angle = (turn / 24) * 2 * Math.PI;
      const x = from.x + reach * Math.cos(angle);
      const y = from.y + reach * Math.sin(angle);
      if (x < edge || y < edge || x > width - edge || y > height - edge) continue;
      const clash = stage.taken.some((other) => Math.hypot(other.x - x, other.y - y) < (size + (other.size ?? size)) / 2 + 6);
      const cost = (clash ? 1000 : 0) + (covered({ x, y }) ? 500 : 0) + 100 * busy(stage, x, y, size) + reach / 10;
      if (!best || cost < best.cost) best = { x, y, size, cost };
    }
  }
  return best ?? { x: Math.min(Math.max(from.x, edge), width - edge), y: edge, size };
}

function busy(stage, x, y, size) {
  const map = busyMap(stage);
  if (!map) return 0;
  let found = 0;
  for (const dx of [-0.5, 0, 0.5]) {
    for (const dy of [-0.5, 0, 0.5]) {
      const spot = stage.toPicture({ x: x + dx * size, y: y + dy * size });
      found += map.at(spot.x, spot.y);
    }
  }
  return found / 9;
}

const maps = new WeakMap();
const awaited = new WeakSet();

function busyMap(stage) {
  const image = stage.picture.querySelector("img");
  if (!image?.complete || !image.naturalWidth) {
    if (image && !awaited.has(image)) image.addEventListener("load", () => stage.redraw(), { once: true });
    if (image) awaited.add(image); // asked for every spot that is tried, and drawn once
    return null;
  }
  if (maps.has(image)) return maps.get(image);
  const columns = 96;
  const rows = Math.max(1, Math.round((columns * stage.height) / stage.width));
  const canvas = document.createElement("canvas");
  canvas.width = columns;
  canvas.height = rows;
  const context = canvas.getContext("2d", { willReadFrequently: true });
  context.drawImage(image, 0, 0, columns, rows);
  maps.set(image, null);
  try {
    maps.set(image, bitmapOf(context.getImageData(0, 0, columns, rows).data, columns, rows, stage));
  } catch {
    // A picture from another address may be looked at but not read: nowhere counts as busy.
  }
  return maps.get(image);
}

function bitmapOf(data, columns, rows, stage) {
  // Paper is the commonest colour of the upper corners.
  const pixel = (c, r) => [0, 1, 2].map((i) => data[4 * (r * columns + c) + i]);
  const corner = pixel(1, 1);
  const far = (c, r) => pixel(c, r).reduce((sum, value, i) => sum + Math.abs(value - corner[i]), 0) > 48;
  const cells = Array.from({ length: rows }, (_, r) => Array.from({ length: columns }, (_, c) => (far(c, r) ? 1 : 0)));
  const perUnit = columns * (stage.longer / stage.width);
  return { at: (x, y) => cells[Math.min(rows - 1, Math.floor(y * perUnit))]?.[Math.min(columns - 1, Math.floor(x * perUnit))] ?? 0 };
}

export function drawComments(stage, comments) {
  // comments: [{x, y, name}]; the words stand under the picture, only the name lies on it.
  for (const comment of comments.filter(({ x }) => x !== null)) {
    const at = stage.toScreen(comment);
    const wide = 20 + 8 * comment.name.length;
    const place = emptySpot(stage, at, wide, [100, 124, 150]);
    stage.taken.push(place);
    const line = { x1: at.x, y1: at.y, x2: place.x, y2: place.y };
    stage.lines.append(
      draw("line", { ...line, class: "casing leader-casing" }),
      draw("line", { ...line, class: "comment-leader" }),
      draw("circle", { cx: at.x, cy: at.y, r: 5, class: "casing" }),
      draw("circle", { cx: at.x, cy: at.y, r: 5, class: "comment-ring" }),
      draw("rect", { x: place.x - wide / 2, y: place.y - 14, width: wide, height: 28, class: "comment-tag" }),
    );
    const text = draw("text", { x: place.x, y: place.y + 5, class: "comment-name", "text-anchor": "middle" });
    text.textContent = comment.name;
    stage.lines.append(text);
  }
}

const FEW_DOTS = 60;

export function drawDots(stage, dots) {
  // dots: [{x, y, place}]: one person's pin each, filled on a fault of the key, open (place null) where it has
  // none. They get smaller the more there are, so that density shows itself.
  const few = (7.5 / 1080) * stage.box.width;
  const r = Math.max(2.2, few * Math.min(1, Math.sqrt(FEW_DOTS / Math.max(1, dots.length))));
  for (const dot of dots) {
    const { x: cx, y: cy } = stage.toScreen(dot);
    if (dot.place === null) {
      stage.lines.append(draw("circle", { cx, cy, r, class: "dot-casing" }), draw("circle", { cx, cy, r, class: "dot-alarm" }));
    } else {
      stage.lines.append(draw("circle", { cx, cy, r: r + 0.6, class: "dot-hit" }));
    }
  }
}
