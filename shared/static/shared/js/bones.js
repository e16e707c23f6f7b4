// Measures drawn over a picture: bones, plumb lines, arcs, and each value at the end of a leader, on ground
// that neither the dog nor another word takes. Places are in picture units, sizes in pixels of the screen.
"use strict";

import { draw } from "./stage.js";

const HIGH = 22;
const REACHES = [60, 80, 100, 125, 150, 180, 210, 250, 300];
const WAYS = 24;
const EDGE = 6;

// A yes-or-no map of the ground that polygons cover, looked up by picture units.
export function coverOf(polygons, fine = 120) {
  const cells = new Uint8Array(fine * fine);
  const inside = (x, y) =>
    polygons.some((polygon) => {
      let odd = false;
      polygon.forEach(([x0, y0], index) => {
        const [x1, y1] = polygon[(index + 1) % polygon.length];
        if (y0 > y !== y1 > y && x < x0 + ((y - y0) * (x1 - x0)) / (y1 - y0)) odd = !odd;
      });
      return odd;
    });
  for (let row = 0; row < fine; row += 1) {
    for (let column = 0; column < fine; column += 1) {
      cells[row * fine + column] = inside((column + 0.5) / fine, (row + 0.5) / fine) ? 1 : 0;
    }
  }
  return { at: (x, y) => cells[Math.min(fine - 1, Math.floor(y * fine)) * fine + Math.min(fine - 1, Math.floor(x * fine))] ?? 0 };
}

// drawings: [{name, label, value, segments, arcs, ends, at}]; style "correct", "incorrect" or "".
export function drawLines(stage, drawings, style = "") {
  const group = draw("g", { class: style ? `lines-${style}` : "" });
  for (const drawing of drawings) {
    for (const [kind, x1, y1, x2, y2] of drawing.segments) {
      const [start, end] = [stage.toScreen({ x: x1, y: y1 }), stage.toScreen({ x: x2, y: y2 })];
      pair(group, `M${start.x} ${start.y}L${end.x} ${end.y}`, kind === "bone" ? "line-bone" : "line-thin");
    }
    for (const arc of drawing.arcs) pair(group, arcPath(stage, arc), "line-arc");
  }
  for (const drawing of drawings) {
    for (const [x, y] of drawing.ends) {
      const at = stage.toScreen({ x, y });
      stage.taken.push({ ...at, size: 14 });
      group.append(draw("circle", { cx: at.x, cy: at.y, r: 4.5, class: "line-end" }));
    }
  }
  stage.lines.append(group);
}

function pair(group, d, name) {
  const thin = name === "line-bone" ? "" : " thin-casing";
  group.append(draw("path", { d, class: `casing${thin}` }), draw("path", { d, class: name }));
}

function arcPath(stage, [radius, x1, y1, x2, y2, clockwise]) {
  const [start, end] = [stage.toScreen({ x: x1, y: y1 }), stage.toScreen({ x: x2, y: y2 })];
  const r = radius * stage.unit * stage.scale;
  return `M${start.x} ${start.y}A${r} ${r} 0 0 ${clockwise} ${end.x} ${end.y}`;
}

// words: [{text, at: [x, y]}]. Places are looked for again only when the picture was moved or the words changed.
export function drawWords(stage, words, cover) {
  const state = JSON.stringify([stage.left, stage.top, stage.scale, stage.box, words]);
  if (stage.wordState !== state) {
    stage.wordState = state;
    stage.wordPlaces = placed(stage, words, cover);
  }
  for (const word of stage.wordPlaces) {
    const d = `M${word.from.x} ${word.from.y}L${word.x} ${word.y}`;
    stage.lines.append(draw("path", { d, class: "casing thin-casing" }), draw("path", { d, class: "line-thin" }));
  }
  for (const word of stage.wordPlaces) write(stage, word);
}

function placed(stage, words, cover) {
  const rooms = [];
  const found = [];
  for (const { text, at } of words) {
    const from = stage.toScreen({ x: at[0], y: at[1] });
    const { width, height } = stage.box;
    if (from.x < 0 || from.y < 0 || from.x > width || from.y > height) continue;
    const best = bestRoom(stage, widthOf(stage, text) + 10, from, cover, rooms);
    rooms.push(best.room);
    found.push({ text, from, ...best });
  }
  return found;
}

function widthOf(stage, text) {
  const word = draw("text", { class: "word" });
  word.textContent = text;
  stage.lines.append(word);
  const wide = word.getComputedTextLength();
  word.remove();
  return wide;
}

function bestRoom(stage, wide, from, cover, rooms) {
  let best = null;
  for (const reach of REACHES) {
    for (let turn = 0; turn < WAYS; turn += 1) {
      const angle = (2 * Math.PI * turn) / WAYS;
      const room = roomAt(stage, wide, from.x + reach * Math.cos(angle), from.y + reach * Math.sin(angle), Math.cos(angle));
      const end = entrance(room, from);
      const cost = reach / 10 + costOf(stage, room, cover, rooms) + crossed(stage, from, end);
      if (!best || cost < best.cost) best = { ...end, room, cost };
    }
  }
  return best;
}

// The word stands beyond the end of its leader, drawn in where it would leave the picture.
function roomAt(stage, wide, x, y, way) {
  const least = Math.abs(way) < 1e-9 ? x - wide / 2 : way > 0 ? x : x - wide;
  const left = Math.min(Math.max(least, EDGE), Math.max(EDGE, stage.box.width - EDGE - wide));
  return { left, right: left + wide, top: y - HIGH / 2, bottom: y + HIGH / 2 };
}

// Where the leader meets the word: the middle of the near side, or straight above or below.
function entrance({ left, right, top, bottom }, from) {
  if (from.x < left) return { x: left, y: (top + bottom) / 2 };
  if (from.x > right) return { x: right, y: (top + bottom) / 2 };
  return { x: from.x, y: from.y < top ? top : bottom };
}

function costOf(stage, room, cover, rooms) {
  const outside = [EDGE - room.top, room.bottom - stage.box.height + EDGE];
  let cost = outside.reduce((sum, over) => sum + 20 * Math.max(0, over), 0);
  for (const other of rooms) {
    if (room.left < other.right + 6 && other.left - 6 < room.right && room.top < other.bottom + 4 && other.top - 4 < room.bottom) cost += 600;
  }
  for (const spot of stage.taken) {
    const near = (spot.size ?? 14) / 2 + 4;
    if (spot.x > room.left - near && spot.x < room.right + near && spot.y > room.top - near && spot.y < room.bottom + near) cost += 300;
  }
  return cost + 120 * share(stage, room, cover);
}

// A leader that runs over a point would hide it.
function crossed(stage, from, end) {
  const [dx, dy] = [end.x - from.x, end.y - from.y];
  const square = dx * dx + dy * dy || 1;
  const far = ({ x, y }) => {
    const along = Math.min(1, Math.max(0, ((x - from.x) * dx + (y - from.y) * dy) / square));
    return Math.hypot(x - from.x - along * dx, y - from.y - along * dy);
  };
  return stage.taken.filter((spot) => far(spot) < 10).length * 200;
}

function share(stage, room, cover) {
  let covered = 0;
  for (let column = 0; column <= 6; column += 1) {
    for (const y of [room.top, (room.top + room.bottom) / 2, room.bottom]) {
      const spot = stage.toPicture({ x: room.left + ((room.right - room.left) * column) / 6, y });
      covered += cover.at(spot.x, spot.y);
    }
  }
  return covered / 21;
}

function write(stage, { text, room }) {
  const { left, right, top } = room;
  stage.lines.append(draw("rect", { x: left, y: top, width: right - left, height: HIGH, class: "word-ground" }));
  const word = draw("text", { x: (left + right) / 2, y: top + HIGH / 2 + 5, class: "word", "text-anchor": "middle" });
  word.textContent = text;
  stage.lines.append(word);
}
