// Weighing a fault that is shown: its level, and a note.
"use strict";

import { drawRegions } from "../shared/js/marks.js";
import { Stage } from "../shared/js/stage.js";
import { Answering } from "./answering.js";

const answering = new Answering({ take, isBlank: () => content.level === null });
const { page, ask } = answering;
const find = (selector) => answering.find(selector);
const levels = page.querySelectorAll(".ladder input");
const note = find("#weigh-note");
let { content } = ask;

const stage = new Stage(find("[data-stage]"));
stage.onRedraw(() => {
  // In outline only: nothing lies on what is to be judged.
  if (find("[data-show]")?.checked) drawRegions(stage, [{ letter: "", regions: ask.shown.regions, style: "some" }]);
});

function take(kept) {
  content = kept;
  for (const input of levels) input.checked = Number(input.value) === content.level;
  note.value = content.note;
}

for (const input of levels) {
  input.name = "level";
  input.addEventListener("change", () => {
    content.level = Number(input.value);
    answering.keep(content);
  });
}
note.addEventListener("input", () => {
  content.note = note.value;
  answering.keep(content);
});
find("[data-show]")?.addEventListener("change", () => stage.redraw());
find("[data-closer]").addEventListener("click", () => stage.closer(1.6));
find("[data-whole]").addEventListener("click", () => stage.whole());
stage.root.addEventListener("stage:closer", (event) => {
  find("[data-whole]").disabled = event.detail === 1;
});

take(content);
answering.begin();
