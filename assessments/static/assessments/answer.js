// Marking the faults of one exhibit: pins dropped, named and weighed, or nothing found.
"use strict";

import { drawPins } from "../shared/js/marks.js";
import { Pick } from "../shared/js/pick.js";
import { Stage } from "../shared/js/stage.js";
import { Keeper } from "../shared/js/keeping.js";

const page = document.getElementById("answering");
const ask = JSON.parse(document.getElementById("ask").textContent);
const words = JSON.parse(document.getElementById("words").textContent);
const say = (word, values = {}) => words[word].replace(/\{(\w+)\}/g, (_, name) => values[name] ?? "");
const faults = new Map(ask.faults.map((fault) => [fault.id, fault]));
const find = (selector, root = page) => root.querySelector(selector);

let { marks, nothing_found: nothingFound } = ask.content;
let chosen = marks.length && !nothingFound ? marks.length - 1 : null;

const stage = new Stage(find("[data-stage]"), { onTap: (spot) => dropPin(spot) });
const keeper = new Keeper({
  address: page.dataset.save,
  store: `answer:${page.dataset.store}`,
  token: page.dataset.token,
  revision: ask.revision,
  onState: showState,
});

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
  keeper.keep({ marks, nothing_found: nothingFound });
  show();
}

// ---- what the page shows ---------------------------------------------------------------------------------

function show() {
  const list = find("[data-pins]");
  list.replaceChildren(...marks.map((mark, index) => (index === chosen ? sheet(mark, index) : row(mark, index))));
  list.classList.toggle("pins-aside", nothingFound);
  find("[data-no-pins]").hidden = marks.length > 0 || nothingFound;
  find("[data-aside]").textContent = nothingFound && marks.length ? say("aside", { n: marks.length }) : say("nothing");
  for (const button of page.querySelectorAll("[data-hand-in]")) {
    button.setAttribute("aria-disabled", String(!marks.length && !nothingFound));
  }
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
  find("[data-level]", item).textContent = mark.level === null ? say("unweighed") : ask.levels[mark.level].label;
  button.addEventListener("click", () => choose(index));
  return item;
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
      find(".ladder input")?.focus({ preventScroll: true });
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
      keeper.keep({ marks, nothing_found: nothingFound });
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
    keeper.keep({ marks, nothing_found: nothingFound });
  });
}

function copy(name) {
  return document.getElementById(`pin-${name}`).content.firstElementChild.cloneNode(true);
}

function announce(text) {
  find("[data-announce]").textContent = text;
}

// ---- keeping and handing in ------------------------------------------------------------------------------

function showState(state, said) {
  const clock = (iso) => new Date(iso).toTimeString().slice(0, 5);
  const text = {
    saved: () => say("saved", { at: said.saved_at }),
    "no connection": () => say("offline", { at: clock(said.since) }),
    "signed out": () => say("signedOut"),
    refused: () => `${said.error} ${say("kept")}`,
    "handed in": () => say("handedIn"),
    overtaken: () => "",
  }[state]();
  for (const place of page.querySelectorAll("[data-state]")) place.textContent = text;
  find("[data-trouble]").hidden = state === "saved" || state === "overtaken";
  find("[data-trouble]").textContent = text;
  find("[data-overtaken]").hidden = state !== "overtaken";
  if (state === "overtaken") offerBoth(said);
  if (state === "handed in") {
    keeper.forget();
    location.reload();
  }
}

function offerBoth(said) {
  const box = find("[data-overtaken]");
  find("[data-mine]", box).onclick = () => {
    box.hidden = true;
    keeper.insist(said.revision);
  };
  find("[data-theirs]", box).onclick = () => {
    box.hidden = true;
    keeper.forget();
    keeper.seen = said.revision;
    ({ marks, nothing_found: nothingFound } = said.content);
    chosen = marks.length ? marks.length - 1 : null;
    for (const input of page.querySelectorAll("[data-nothing]")) input.checked = nothingFound;
    show();
  };
  box.focus();
}

async function handIn(event) {
  event.preventDefault();
  const form = event.target;
  if (!marks.length && !nothingFound) return announce(say("blank"));
  if (form.dataset.going) return;
  form.dataset.going = "1";
  if (await keeper.send()) {
    keeper.forget();
    form.seen.value = keeper.seen;
    form.submit();
  } else {
    delete form.dataset.going;
  }
}

for (const form of page.querySelectorAll("[data-hand-in-form]")) form.addEventListener("submit", handIn);
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

const left = keeper.left();
if (left && JSON.stringify(left.content) !== JSON.stringify(ask.content)) {
  ({ marks, nothing_found: nothingFound } = left.content);
  chosen = marks.length && !nothingFound ? marks.length - 1 : null;
  for (const box of page.querySelectorAll("[data-nothing]")) box.checked = nothingFound;
  keeper.resume(left, ask.last, ask.revision);
} else if (left) {
  keeper.forget();
}
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
page.dataset.ready = "1";
