// Where a point may be expected: the similarity that lays the ideal figure over the points placed so far
// (least squares, the plane taken as complex numbers), mirrored if the dog faces the other way.
"use strict";

function fitOneWay(source, target, mirrored) {
  const from = source.map(([x, y]) => [mirrored ? -x : x, y]);
  const mean = (spots, axis) => spots.reduce((sum, spot) => sum + spot[axis], 0) / spots.length;
  const [fx, fy, tx, ty] = [mean(from, 0), mean(from, 1), mean(target, 0), mean(target, 1)];
  let [re, im, spread] = [0, 0, 0];
  from.forEach(([x, y], index) => {
    const [a, b] = [x - fx, y - fy];
    const [u, v] = [target[index][0] - tx, target[index][1] - ty];
    re += u * a + v * b;
    im += v * a - u * b;
    spread += a * a + b * b;
  });
  if (!spread) return null;
  [re, im] = [re / spread, im / spread];
  const move = ([x, y]) => {
    const [a, b] = [(mirrored ? -x : x) - fx, y - fy];
    return [tx + re * a - im * b, ty + re * b + im * a];
  };
  const left = source.reduce((sum, spot, index) => {
    const [x, y] = move(spot);
    return sum + (x - target[index][0]) ** 2 + (y - target[index][1]) ** 2;
  }, 0);
  return { move, rms: Math.sqrt(left / source.length), turn: Math.abs(Math.atan2(im, re)) };
}

// `source` and `target` are lists of [x, y] in the same order; null from fewer than two spots apart.
// Two spots fit both ways alike: there the dog is taken to stand on its feet.
export function fit(source, target) {
  if (source.length < 2) return null;
  const ways = [false, true].map((mirrored) => fitOneWay(source, target, mirrored)).filter(Boolean);
  ways.sort((a, b) => a.rms + 0.05 * a.turn - (b.rms + 0.05 * b.turn));
  return ways[0]?.move ?? null;
}
