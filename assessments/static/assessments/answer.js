// Marking the faults of one exhibit: pins dropped, named and weighed, or nothing found.
"use strict";

import { drawPins } from "../shared/js/marks.js";
import { Pick } from "../shared/js/pick.js";
import { Stage } from "../shared/js/stage.js";
import { Answering } from "./answering.js";

const answering = new Answering({
  take: (content) => take(content),
  isBlank: () => !marks.length && !nothingFound,
});
const { page, ask } = answering;
const say = (word, values) => answering.say(word, values);
const find = (selector, root) => answering.find(selector, root);
const announce = (text) => answering.announce(text);
const faults = new Map(ask.faults.map((fault) => [fault.id, fault]));

let { marks, nothing_found: nothingFound } = ask.content;
let chosen = marks.length && !nothingFound ? marks.length - 1 : null;

const stage = new Stage(find("[data-stage]"), { onTap: (spot) => dropPin(spot) });
// ---- what the trainee does -------------------------------------------------------------------------------

function dropPin(spot) {
  if (nothingFound) setNothingFound(false);
  if (marks.length >= Number(page.dataset.most)) return announce(say("most"));
  marks.push({ x: spot?.x ?? null, y: spot?.y ?? null, fault: null, level: null, note: "" });
  chosen = marks.length - 1;
  changed();
  announce(say("dropped", { n: marks.length }));
  find("[data-fault]")?.focus({ preventScroll: !matchMedia("(min-width: 901px)").matches });
}

function choose(index) {
  chosen = index;
  show();
}

function movePin(index, spot, done) {
  Object.assign(marks[index], spot);
  if (done) changed();
  else stage.redraw();
}

function removePin(index) {
  marks.splice(index, 1);
  chosen = marks.length ? Math.min(index, marks.length - 1) : null;
  changed();
  announce(say("removed", { n: index + 1 }));
  (find(`[data-row="${chosen}"]`) ?? stage.root).focus();
}

function setNothingFound(value) {
  nothingFound = value;
  if (value) chosen = null;
  for (const box of page.querySelectorAll("[data-nothing]")) box.checked = value;
  changed();
}

function changed() {
  answering.keep({ marks, nothing_found: nothingFound });
  show();
}

// ---- what the page shows ---------------------------------------------------------------------------------

function show() {
  const list = find("[data-pins]");
  list.replaceChildren(...marks.map((mark, index) => (index === chosen ? sheet(mark, index) : row(mark, index))));
  list.classList.toggle("pins-aside", nothingFound);
  find("[data-no-pins]").hidden = marks.length > 0 || nothingFound;
  find("[data-aside]").textContent = nothingFound && marks.length ? say("aside", { n: marks.length }) : say("nothing");
  stage.redraw();
}

function titleOf(mark, index) {
  const fault = faults.get(mark.fault);
  const where = mark.x === null ? say("whole") : "";
  return { name: fault?.name ?? say("unnamed"), where, clause: fault ? `${fault.clause}, ${fault.zone}` : where, n: index + 1 };
}

function row(mark, index) {
  const item = copy("row");
  const title = titleOf(mark, index);
  const button = find("button", item);
  button.dataset.row = index;
  find("[data-number]", item).textContent = index + 1;
  find("[data-name]", item).textContent = title.name;
  find("[data-where]", item).textContent = [title.clause, mark.note && say("noted", { note: mark.note })].filter(Boolean).join(". ");
  find("[data-level]", item).textContent = levelOf(mark);
  button.addEventListener("click", () => choose(index));
  return item;
}

function levelOf(mark) {
  if (!ask.levels.length) return "";
  return mark.level === null ? say("unweighed") : ask.levels[mark.level].label;
}

function sheet(mark, index) {
  const item = copy("sheet");
  const fault = faults.get(mark.fault);
  find("[data-number]", item).textContent = index + 1;
  find("[data-title]", item).textContent = say("pin", { n: index + 1 });
  find("[data-spot]", item).textContent = mark.x === null ? `, ${say("whole")}` : fault ? `, ${fault.zone}` : "";
  nameField(item, mark, fault);
  ladder(item, mark, index);
  noteField(item, mark);
  const remove = find("[data-remove]", item);
  remove.textContent = say("remove", { n: index + 1 });
  remove.addEventListener("click", () => removePin(index));
  return item;
}

function nameField(item, mark, fault) {
  const input = find("[data-fault]", item);
  input.value = fault?.name ?? "";
  const clause = find("[data-clause]", item);
  clause.hidden = !fault;
  if (fault) {
    find(".clause-number", clause).textContent = fault.clause;
    find("[data-clause-text]", clause).innerHTML = fault.text;
  }
  new Pick(find(".pick", item), ask.faults, {
    onPick: (picked) => {
      mark.fault = picked.id;
      changed();
      (find(".ladder input") ?? find("[data-add-note]")).focus({ preventScroll: true });
    },
  });
  input.addEventListener("focus", () => input.select());
  input.addEventListener("change", () => {
    if (input.value.trim() || mark.fault === null) return;
    mark.fault = null;
    changed();
  });
}

function ladder(item, mark, index) {
  for (const input of item.querySelectorAll(".ladder input")) {
    input.name = `level-${index}`;
    input.checked = Number(input.value) === mark.level;
    input.addEventListener("change", () => {
      mark.level = Number(input.value);
      answering.keep({ marks, nothing_found: nothingFound });
    });
  }
}

function noteField(item, mark) {
  const open = find("[data-add-note]", item);
  const field = find("[data-note]", item);
  const area = find("textarea", field);
  area.value = mark.note;
  field.hidden = !mark.note;
  open.hidden = Boolean(mark.note);
  open.addEventListener("click", () => {
    field.hidden = false;
    open.hidden = true;
    area.focus();
  });
  area.addEventListener("input", () => {
    mark.note = area.value;
    answering.keep({ marks, nothing_found: nothingFound });
  });
}

function copy(name) {
  return document.getElementById(`pin-${name}`).content.firstElementChild.cloneNode(true);
}

function take(content) {
  ({ marks, nothing_found: nothingFound } = content);
  chosen = marks.length && !nothingFound ? marks.length - 1 : null;
  for (const input of page.querySelectorAll("[data-nothing]")) input.checked = nothingFound;
  show();
}

for (const box of page.querySelectorAll("[data-nothing]")) {
  box.checked = nothingFound;
  box.addEventListener("change", () => setNothingFound(box.checked));
}
for (const button of page.querySelectorAll("[data-whole-dog]")) button.addEventListener("click", () => dropPin(null));
find("[data-closer]").addEventListener("click", () => stage.closer(1.6, chosen !== null && marks[chosen].x !== null ? stage.toScreen(marks[chosen]) : undefined));
find("[data-whole]").addEventListener("click", () => stage.whole());
stage.root.addEventListener("stage:closer", (event) => {
  find("[data-whole]").disabled = event.detail === 1;
});
stage.tabs.addEventListener("keydown", (event) => {
  const index = Number(event.target.dataset.pin);
  const arrows = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
  if (event.key in arrows) {
    const step = (event.shiftKey ? 0.05 : 0.005) / stage.scale;
    const limit = (value, side) => Math.min(Math.max(value, 0), side / stage.longer);
    const [dx, dy] = arrows[event.key];
    const { x, y } = marks[index];
    movePin(index, { x: limit(x + dx * step, stage.width), y: limit(y + dy * step, stage.height) }, true);
  } else if (event.key === "Delete" || event.key === "Backspace") {
    removePin(index);
  } else {
    return;
  }
  event.preventDefault();
});

stage.onRedraw(() =>
  nothingFound
    ? stage.tabs.replaceChildren()
    : drawPins(
        stage,
        marks.map((mark, index) => ({ ...mark, number: index + 1 })),
        {
          chosen,
          onChoose: choose,
          onMove: movePin,
          describe: (pin, index) => `${say("pin", { n: index + 1 })}, ${titleOf(marks[index], index).name}`,
        },
      ),
);
show();
answering.begin();
