// Parts of a picture that are to be hidden: drawn solid, as they will be painted.
"use strict";

import { History } from "../shared/js/history.js";
import { pathOf } from "../shared/js/marks.js";
import { toolsOf } from "../shared/js/region_tools.js";
import { RegionEditor } from "../shared/js/regions.js";
import { Stage, draw } from "../shared/js/stage.js";

const page = document.getElementById("blanking");
const blanks = JSON.parse(document.getElementById("blanks").textContent);
const words = JSON.parse(document.getElementById("words").textContent);
const say = (word, values = {}) => words[word].replace(/\{(\w+)\}/g, (_, name) => values[name] ?? "");
const find = (selector) => page.querySelector(selector);
const same = (one, other) => JSON.stringify(one) === JSON.stringify(other);
const announce = (text) => {
  find("[data-announce]").textContent = text;
};

let shapes = blanks.shapes;
const steps = new History(shapes);
const stage = new Stage(find("[data-stage]"));
const editor = new RegionEditor(stage, { most: blanks.most, say, announce, onChange: change, onState: () => tools.show() });
const tools = toolsOf(page, { stage, editor, say, steps, begin, go, whom: () => "" });

function change(next, kind) {
  // Without the file that was taken in, what is painted over stays.
  if (blanks.fixed && blanks.burnt.some((outline) => !next.some((each) => same(each, outline)))) {
    announce(say("fixed"));
    return show();
  }
  shapes = next;
  steps.add(shapes, kind === "nudge" ? kind : null);
  return show();
}

function begin(tool) {
  editor.show(shapes);
  editor.begin(tool);
  if (editor.tool) stage.root.focus({ preventScroll: true });
}

function go(step) {
  const state = steps.go(step);
  if (!state) return;
  shapes = state;
  show();
}

function show() {
  editor.show(shapes);
  find("[data-count]").textContent = shapes.length === 1 ? say("one") : shapes.length ? say("count", { n: shapes.length }) : say("none");
  find("[name=shapes]").value = JSON.stringify(shapes);
  tools.show();
  stage.redraw();
}

stage.onRedraw(() => {
  for (const outline of blanks.burnt) {
    if (!shapes.some((each) => same(each, outline))) stage.lines.append(draw("path", { d: pathOf(stage, outline), class: "blank-gone" }));
  }
  shapes.forEach((outline, index) => {
    const moving = editor.moving?.region === index ? editor.moving.outline : outline;
    stage.lines.append(draw("path", { d: pathOf(stage, moving), class: "blank-drawn" }));
  });
  editor.draw();
});
show();

// Leaving with something drawn and not yet painted would lose it.
let sent = false;
find("[data-blanks]").addEventListener("submit", () => {
  sent = true;
});
window.addEventListener("beforeunload", (event) => {
  if (!sent && !same(shapes, blanks.burnt)) event.preventDefault();
});
page.dataset.ready = "1";
