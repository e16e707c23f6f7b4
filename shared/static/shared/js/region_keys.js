// The keys of the region editor: the cross sets corners, buttons over the drawing move and remove what is there.
"use strict";

import { frameOf, shifted, stretched } from "./outlines.js";

const NUDGE = 0.005;
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

export function keyed(editor, event) {
  if (event.ctrlKey || event.metaKey || event.altKey) return;
  const done = event.target === editor.stage.root ? keyedWhileDrawing(editor, event) : keyedOnHandle(editor, event);
  if (!done) return;
  event.preventDefault();
  event.stopPropagation();
}

function keyedWhileDrawing(editor, { key }) {
  editor.hover = null;
  if (!editor.tool) return false;
  if (key === "Escape") editor.leave();
  else if (key === "Backspace" || key === "Delete") editor.stepBack();
  else if (key.toLowerCase() === "c" && editor.tool === "corners") editor.close();
  else return false;
  return true;
}

function keyedOnHandle(editor, event) {
  if (!editor.at || !editor.stage.tabs.contains(event.target)) return false;
  const { region, corner } = editor.at;
  const count = editor.handles(region).length;
  const go = (step) => editor.goTo({ region, corner: ((corner ?? (step > 0 ? -1 : count)) + step + count) % count });
  const acts = {
    n: () => go(1),
    p: () => go(-1),
    i: () => corner !== null && editor.putIn(region, corner),
    delete: () => editor.remove(),
    backspace: () => editor.remove(),
    escape: () => editor.stage.root.focus(),
  };
  if (event.key in ARROWS) nudge(editor, event);
  else if (event.key.toLowerCase() in acts) acts[event.key.toLowerCase()]();
  else return false;
  return true;
}

function nudge(editor, { key, shiftKey }) {
  const { region, corner } = editor.at;
  const [right, down] = ARROWS[key];
  const outline = editor.regions[region];
  if (corner === null && shiftKey) return editor.change(region, grown(editor, outline, right, down), "nudge");
  const step = (NUDGE * (shiftKey ? 8 : 1)) / editor.stage.scale;
  if (corner === null) return editor.change(region, shifted(outline, right * step, down * step, editor.edge), "nudge");
  const [x, y] = editor.handles(region)[corner];
  const limit = (value, far) => Math.min(Math.max(value, 0), far);
  const spot = { x: limit(x + right * step, editor.edge.x), y: limit(y + down * step, editor.edge.y) };
  return editor.change(region, editor.withHandleAt(region, corner, spot), "nudge");
}

function grown(editor, outline, right, down) {
  const frame = frameOf(outline);
  const step = (NUDGE * 2) / editor.stage.scale;
  const far = Math.min(Math.max(frame.right + right * step, frame.left + NUDGE), editor.edge.x);
  const low = Math.min(Math.max(frame.foot + down * step, frame.top + NUDGE), editor.edge.y);
  return stretched(outline, { ...frame, right: far, foot: low });
}
