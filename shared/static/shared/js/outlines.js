// Outlines on a picture: lists of [x, y] in units of its longer side. Plain geometry, nothing of any page.
"use strict";

const ROUND = 32; // corners of a drawn ellipse
const FINE = 1e5; // five decimals, as the server keeps them

export const pair = ({ x, y }) => [x, y];
export const spotOf = ([x, y]) => ({ x, y });
export const rounded = ({ x, y }) => [Math.round(x * FINE) / FINE, Math.round(y * FINE) / FINE];

export function frameOf(outline) {
  const xs = outline.map(([x]) => x);
  const ys = outline.map(([, y]) => y);
  return { left: Math.min(...xs), top: Math.min(...ys), right: Math.max(...xs), foot: Math.max(...ys) };
}

export function cornersOf({ left, top, right, foot }) {
  return [[left, top], [right, top], [right, foot], [left, foot]];
}

export function frameBetween([x1, y1], [x2, y2]) {
  return { left: Math.min(x1, x2), top: Math.min(y1, y2), right: Math.max(x1, x2), foot: Math.max(y1, y2) };
}

export function ellipseIn({ left, top, right, foot }) {
  const turn = (i) => (2 * Math.PI * i) / ROUND;
  return Array.from({ length: ROUND }, (_, i) =>
    rounded({
      x: (left + right) / 2 + ((right - left) / 2) * Math.cos(turn(i)),
      y: (top + foot) / 2 + ((foot - top) / 2) * Math.sin(turn(i)),
    }),
  );
}

export function isFrame(outline) {
  const { left, top, right, foot } = frameOf(outline);
  return outline.length === 4 && outline.every(([x, y]) => [left, right].includes(x) && [top, foot].includes(y));
}

// The middle of the edge that begins at a corner.
export function middle(outline, after) {
  const [[x1, y1], [x2, y2]] = [outline[after], outline[(after + 1) % outline.length]];
  return { x: (x1 + x2) / 2, y: (y1 + y2) / 2 };
}

// The outline moved as a whole, as far as the picture reaches.
export function shifted(outline, dx, dy, edge) {
  const { left, top, right, foot } = frameOf(outline);
  const far = Math.min(Math.max(dx, -left), edge.x - right);
  const down = Math.min(Math.max(dy, -top), edge.y - foot);
  return outline.map(([x, y]) => rounded({ x: x + far, y: y + down }));
}

// The outline drawn out or in so that its frame becomes another.
export function stretched(outline, to) {
  const from = frameOf(outline);
  const along = (value, a, b, c, d) => (b === a ? c : c + ((value - a) / (b - a)) * (d - c));
  return outline.map(([x, y]) =>
    rounded({ x: along(x, from.left, from.right, to.left, to.right), y: along(y, from.top, from.foot, to.top, to.foot) }),
  );
}

export function isInside(outline, { x, y }) {
  let inside = false;
  for (let i = 0, j = outline.length - 1; i < outline.length; j = i, i += 1) {
    const [xi, yi] = outline[i];
    const [xj, yj] = outline[j];
    if (yi > y !== yj > y && x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) inside = !inside;
  }
  return inside;
}

export function areaOf(outline) {
  const twice = outline.reduce((sum, [x, y], i) => {
    const [nextX, nextY] = outline[(i + 1) % outline.length];
    return sum + x * nextY - nextX * y;
  }, 0);
  return Math.abs(twice) / 2;
}

// Whether an outline crosses or touches itself, or has fewer than three corners. A corner said twice is one.
export function crosses(outline) {
  const corners = outline.filter((corner, i) => !same(corner, outline[(i + 1) % outline.length]));
  if (corners.length < 3) return true;
  const edges = corners.map((corner, i) => [corner, corners[(i + 1) % corners.length]]);
  return edges.some((edge, i) => {
    const next = (i + 1) % edges.length;
    if (turnsBack(edge, edges[next])) return true;
    return edges.slice(i + 2).some((other, k) => !(i === 0 && i + 2 + k === edges.length - 1) && meet(edge, other));
  });
}

// Whether a path that is still open would cross or touch itself by going on to a spot.
export function wouldCross(path, spot) {
  if (!path.length) return false;
  const edge = [path[path.length - 1], spot];
  if (same(...edge)) return true;
  const before = path.slice(1).map((corner, i) => [path[i], corner]);
  if (before.length && turnsBack(before[before.length - 1], edge)) return true;
  return before.slice(0, -1).some((other) => meet(edge, other));
}

const same = ([x1, y1], [x2, y2]) => x1 === x2 && y1 === y2;
const side = ([ax, ay], [bx, by], [cx, cy]) => Math.sign((bx - ax) * (cy - ay) - (by - ay) * (cx - ax));

function turnsBack([a, b], [, c]) {
  // Goes back along the edge that it comes from.
  return side(a, b, c) === 0 && (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1]) < 0;
}

function meet([a, b], [c, d]) {
  const [one, two, three, four] = [side(a, b, c), side(a, b, d), side(c, d, a), side(c, d, b)];
  if (one !== two && three !== four) return true;
  return (one === 0 && between(a, b, c)) || (two === 0 && between(a, b, d)) || (three === 0 && between(c, d, a)) || (four === 0 && between(c, d, b));
}

function between([ax, ay], [bx, by], [x, y]) {
  return Math.min(ax, bx) <= x && x <= Math.max(ax, bx) && Math.min(ay, by) <= y && y <= Math.max(ay, by);
}
