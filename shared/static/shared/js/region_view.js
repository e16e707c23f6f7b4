// What the region editor lays over the picture: the path being drawn, handles, and buttons for keys.
"use strict";

import { pathOf } from "./marks.js";
import { cornersOf, ellipseIn, frameBetween, frameOf, middle, pair, rounded } from "./outlines.js";
import { draw } from "./stage.js";

const HANDLE = 14;
export const NEAR = 13; // px within which a handle is meant: a target of 26

export function drawEditor(editor) {
  if (editor.tool) drawPath(editor);
  const shown = editor.tool ? [] : (editor.regions ?? []);
  shown.forEach((_, region) => drawHandles(editor, region));
  setButtons(editor, shown);
}

function drawPath(editor) {
  const cursor = editor.stage.cursor ?? editor.hover;
  const going = cursor ? [...editor.path, rounded(cursor)] : editor.path;
  if (!editor.path.length) return;
  let outline = going;
  if (editor.tool !== "corners" && going.length > 1) {
    const frame = frameBetween(going[0], going[going.length - 1]);
    outline = editor.tool === "oval" ? ellipseIn(frame) : cornersOf(frame);
  }
  const d = pathOf(editor.stage, outline);
  const open = editor.tool === "corners" ? d.slice(0, -1) : d;
  line(editor, open, "casing region-casing");
  line(editor, open, "region region-edit");
  editor.path.forEach((corner, i) => square(editor, corner, `handle-square${i === 0 && editor.path.length > 2 ? " handle-first" : ""}`));
}

function drawHandles(editor, region) {
  const outline = editor.outline(region);
  const hold = draw("path", { d: pathOf(editor.stage, outline), class: "region-hold" });
  editor.stage.lines.append(hold);
  if (editor.byFrame(region)) line(editor, pathOf(editor.stage, cornersOf(frameOf(outline))), "region-frame");
  const middles = editor.byFrame(region) || editor.moving ? [] : editor.longEdges(region);
  for (const after of middles) square(editor, pair(middle(outline, after)), "handle-middle", 8);
  editor.handles(region).forEach((corner, i) => {
    const chosen = editor.at?.region === region && editor.at.corner === i;
    square(editor, corner, `handle-square${chosen ? " handle-chosen" : ""}`);
  });
}

function line(editor, d, kind) {
  editor.stage.lines.append(draw("path", { d, class: kind }));
}

function square(editor, [x, y], kind, size = HANDLE) {
  const at = editor.stage.toScreen({ x, y });
  const box = (side) => ({ x: at.x - side / 2, y: at.y - side / 2, width: side, height: side });
  editor.stage.lines.append(draw("rect", { ...box(2 * NEAR), class: "handle-hold" }), draw("rect", { ...box(size), class: kind }));
}

// One button for each region and one for its corners lie over the drawing, for keys and screen readers.
function setButtons(editor, shown) {
  const wanted = shown.flatMap((_, region) => [
    buttonOf(editor, region, null),
    ...editor.handles(region).map((_corner, i) => buttonOf(editor, region, i)),
  ]);
  const known = new Map([...editor.stage.tabs.children].map((button) => [button.dataset.at, button]));
  for (const { id, label, spot, tabbable } of wanted) {
    const button = known.get(id) ?? newButton(editor, id);
    known.delete(id);
    button.setAttribute("aria-label", label);
    button.tabIndex = tabbable ? 0 : -1;
    button.style.left = `${spot.x}px`;
    button.style.top = `${spot.y}px`;
  }
  for (const button of known.values()) button.remove();
}

function newButton(editor, id) {
  const button = document.createElement("button");
  button.type = "button";
  button.className = id.endsWith("/") ? "handle handle-region" : "handle";
  button.dataset.at = id;
  editor.stage.tabs.append(button);
  return button;
}

function buttonOf(editor, region, corner) {
  const handles = editor.handles(region);
  const values = { n: (corner ?? region) + 1, of: handles.length, region: region + 1, corners: handles.length, letter: editor.name() };
  const frame = frameOf(editor.outline(region));
  const [x, y] = corner === null ? [(frame.left + frame.right) / 2, (frame.top + frame.foot) / 2] : handles[corner];
  const current = editor.at?.region === region ? (editor.at.corner ?? 0) : 0;
  return {
    id: `${region}/${corner ?? ""}`,
    label: editor.say(corner === null ? "region" : "corner", values),
    spot: editor.stage.toScreen({ x, y }),
    tabbable: corner === null || corner === current,
  };
}
