// A key's points on a picture: a cross where each is, a ring as far as it counts whole.
"use strict";

import { draw } from "../shared/js/stage.js";

// points: [{label, place: [x, y] or null, whole}], whole in heights at the withers; height in picture units.
export function drawKeyPoints(stage, points, { height, chosen = null }) {
  for (const point of points) {
    if (!point.place) continue;
    const at = stage.toScreen({ x: point.place[0], y: point.place[1] });
    const edge = stage.toScreen({ x: point.place[0] + point.whole * height, y: point.place[1] });
    const ring = { cx: at.x, cy: at.y, r: Math.max(3, edge.x - at.x) };
    const d = `M${at.x - 6} ${at.y}H${at.x + 6}M${at.x} ${at.y - 6}V${at.y + 6}`;
    stage.lines.append(
      draw("circle", { ...ring, class: "casing leader-casing" }),
      draw("circle", { ...ring, class: "key-reach" }),
      draw("path", { d, class: "casing leader-casing" }),
      draw("path", { d, class: "key-cross" }),
    );
    if (point === chosen) drawWord(stage, at, point.label);
  }
}

export function drawWord(stage, at, label) {
  const beyond = at.x > stage.box.width * 0.6;
  const text = draw("text", { x: at.x + (beyond ? -18 : 18), y: at.y - 12, class: "point-word", "text-anchor": beyond ? "end" : "start" });
  text.textContent = label;
  stage.lines.append(text);
}
