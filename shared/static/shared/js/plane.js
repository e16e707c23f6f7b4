// Affine maps of the plane as SVG writes them, [a, b, c, d, e, f], and drawings moved by them.
"use strict";

export function moved([a, b, c, d, e, f], [x, y]) {
  return [a * x + c * y + e, b * x + d * y + f];
}

export function inverse([a, b, c, d, e, f]) {
  const area = a * d - b * c;
  return [d / area, -b / area, -c / area, a / area, (c * f - d * e) / area, (b * e - a * f) / area];
}

export function scaleOf([a, b, c, d]) {
  return Math.sqrt(Math.abs(a * d - b * c));
}

// Lines as bones.js draws them, under a similarity; a mirrored arc turns the other way.
export function movedLines(matrix, drawing) {
  const at = (x, y) => moved(matrix, [x, y]);
  const mirrored = matrix[0] * matrix[3] - matrix[1] * matrix[2] < 0;
  return {
    ...drawing,
    segments: drawing.segments.map(([kind, x1, y1, x2, y2]) => [kind, ...at(x1, y1), ...at(x2, y2)]),
    arcs: drawing.arcs.map(([radius, x1, y1, x2, y2, clockwise]) => [
      radius * scaleOf(matrix),
      ...at(x1, y1),
      ...at(x2, y2),
      mirrored ? 1 - clockwise : clockwise,
    ]),
    ends: drawing.ends.map(([x, y]) => at(x, y)),
    at: drawing.at && at(...drawing.at),
  };
}
