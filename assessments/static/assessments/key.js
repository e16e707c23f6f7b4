// Drawing up the key of one exhibit: regions on the picture, each fault with its clause and its severity.
"use strict";

import { History } from "../shared/js/history.js";
import { drawRegions } from "../shared/js/marks.js";
import { areaOf, isInside } from "../shared/js/outlines.js";
import { toolsOf } from "../shared/js/region_tools.js";
import { RegionEditor } from "../shared/js/regions.js";
import { Stage } from "../shared/js/stage.js";
import { letterOf, missingOf, sheetOf } from "./key_sheet.js";
import { Keying } from "./keying.js";

const keying = new Keying({ take: (other) => take(other), onWrong: showWrong });
const { page, known } = keying;
const say = (word, values) => keying.say(word, values);
const find = (selector, root) => keying.find(selector, root);
const announce = (text) => keying.announce(text);
known.faultsById = new Map(known.faults.map((fault) => [fault.id, fault]));
known.clausesById = new Map(known.clauses.map((clause) => [clause.id, clause]));

let content = known.content;
let chosen = content.entries.length ? 0 : null;
let addsTo = null; // the entry to which the next region is added; null: a new one
let wrong = new Map(); // what the server refused, by entry
let showing = true;
const steps = new History(content);

const stage = new Stage(find("[data-stage]"));
const editor = new RegionEditor(stage, {
  most: known.most,
  say,
  announce,
  name: () => (chosen === null ? "" : letterOf(chosen)),
  onChange: setRegions,
  onTap: chooseAt,
  onState: () => tools.show(),
});
const tools = toolsOf(page, { stage, editor, say, steps, begin, go, whom });

// ---- what the educator does ------------------------------------------------------------------------------

function newEntry(fields = {}) {
  if (content.entries.length >= known.most.entries) {
    announce(say("full"));
    return null;
  }
  content.entries.push({ fault: null, clause: null, level: null, whole_dog: false, regions: [], also: [], ...fields });
  content.sound = false;
  chosen = content.entries.length - 1;
  return content.entries[chosen];
}

// Whether the next region belongs to the chosen entry: it waits for its first one, or the key has room for no other.
function isChosens() {
  if (chosen === null) return false;
  const { regions, whole_dog: everywhere } = content.entries[chosen];
  return (!regions.length && !everywhere) || content.entries.length >= known.most.entries;
}

function begin(tool) {
  if (tool && addsTo === null && isChosens()) addsTo = chosen;
  if (!tool) addsTo = null;
  else showing = find("[data-show]").checked = true;
  editor.show(addsTo === null ? (tool ? null : regionsToChange()) : content.entries[addsTo].regions);
  editor.begin(tool);
  if (!editor.tool) {
    addsTo = null;
    editor.show(regionsToChange());
  }
  if (editor.tool) stage.root.focus({ preventScroll: true });
}

function whom() {
  if (addsTo !== null) return letterOf(addsTo);
  return isChosens() ? letterOf(chosen) : letterOf(content.entries.length);
}

function setRegions(regions, kind) {
  const drawn = kind === "drawn";
  const entry = !drawn ? content.entries[chosen] : addsTo === null ? newEntry() : content.entries[addsTo];
  if (drawn && addsTo !== null) chosen = addsTo;
  addsTo = null;
  if (!entry) return show();
  entry.regions = regions;
  entry.whole_dog = false;
  if (drawn) content.sound = false;
  return changed(kind === "nudge" ? kind : null, drawn && entry.fault === null ? "fault" : undefined);
}

// The smallest region under a spot is meant. Answers whether it is another entry's than the chosen one's.
function chooseAt(spot) {
  const under = content.entries.flatMap(({ regions }, index) => regions.filter((outline) => isInside(outline, spot)).map((outline) => ({ index, area: areaOf(outline) })));
  const [meant] = content.sound || !showing ? [] : under.sort((a, b) => a.area - b.area);
  if (!meant || meant.index === chosen) {
    stage.redraw();
    return false;
  }
  choose(meant.index);
  return true;
}

function choose(index) {
  if (index !== chosen) editor.at = null;
  chosen = index;
  show();
}

function removeEntry(index) {
  content.entries.splice(index, 1);
  chosen = content.entries.length ? Math.min(index, content.entries.length - 1) : null;
  changed();
  announce(say("removed", { letter: letterOf(index) }));
  (find(`[data-row="${chosen}"]`) ?? find("[data-enter]")).focus();
}

function go(step) {
  const state = steps.go(step);
  if (!state) return;
  content = state;
  if (chosen !== null && !content.entries[chosen]) chosen = content.entries.length ? content.entries.length - 1 : null;
  if (chosen === null && content.entries.length) chosen = 0;
  keep();
  begin(null);
  show();
  announce(say(step < 0 ? "undone" : "redone"));
}

function keep() {
  keying.keep(content);
}

function take(other) {
  content = other;
  chosen = content.entries.length ? 0 : null;
  steps.add(content);
  begin(null);
  show();
  find("[data-note]").value = content.note;
}

// `focus` names the field that has the focus afterwards.
function changed(kind = null, focus = undefined) {
  steps.add(content, kind);
  wrong = new Map();
  keep();
  show(focus);
}

// ---- what the page shows ---------------------------------------------------------------------------------

function regionsToChange() {
  return chosen === null || content.sound || !showing ? null : content.entries[chosen].regions;
}

function show(focus = document.activeElement?.dataset.keep) {
  const list = find("[data-entries]");
  list.replaceChildren(...content.entries.map((entry, index) => (index === chosen && !content.sound ? sheet(entry, index) : row(entry, index))));
  list.classList.toggle("entries-aside", content.sound);
  find("[data-none]").hidden = content.entries.length > 0 || content.sound;
  find(".key-more").hidden = known.most.entries === 1 && content.entries.length === 1;
  showSound();
  if (!editor.tool) editor.show(regionsToChange());
  showMissing();
  showTwice();
  stage.redraw();
  tools.show();
  if (focus) find(`[data-keep="${focus}"]`, list)?.focus({ preventScroll: !matchMedia("(min-width: 901px)").matches });
}

// Not every kind has a key that can be sound.
function showSound() {
  const box = find("[data-sound]");
  if (!box) return;
  box.checked = content.sound;
  find("[data-aside]").textContent = content.sound && content.entries.length ? say("aside") : say("sound");
}

function row(entry, index) {
  const item = document.getElementById("entry-row").content.firstElementChild.cloneNode(true);
  const button = find("button", item);
  const lacks = [...missingOf(entry).map((part) => say(`missing_${part}`)), ...(wrong.get(index) ?? [])];
  button.dataset.row = index;
  find("[data-letter]", item).textContent = letterOf(index);
  find("[data-name]", item).textContent = known.faultsById.get(entry.fault)?.name ?? say("unnamed");
  find("[data-clause]", item).textContent = known.clausesById.get(entry.clause)?.number ?? "";
  find("[data-lacks]", item).textContent = [entry.whole_dog && say("whole"), lacks.join(", ")].filter(Boolean).join(". ");
  find("[data-level]", item).textContent = entry.level === null ? say("unweighed") : known.levels[entry.level];
  button.addEventListener("click", () => choose(index));
  return item;
}

function sheet(entry, index) {
  return sheetOf(entry, index, {
    known,
    say,
    wrong: wrong.get(index),
    changed,
    kept: () => {
      steps.add(content, "typed");
      keep();
      showMissing();
      tools.show();
    },
    remove: () => removeEntry(index),
    another: () => {
      addsTo = index;
      begin("corners");
    },
  });
}

function showMissing() {
  const lines = content.entries
    .map((entry, index) => ({ index, parts: missingOf(entry).map((part) => say(`missing_${part}`)) }))
    .filter(({ parts }) => parts.length)
    .map(({ index, parts }) => `${letterOf(index)}: ${parts.join(", ")}.`);
  if (!content.entries.length) lines.push(say("missing_entries"));
  keying.showMissing(content.sound ? [] : lines);
}

function showTwice() {
  const letters = content.entries.map(({ fault }, index) => ({ fault, letter: letterOf(index) }));
  const alike = letters.filter(({ fault }) => fault !== null && letters.filter((other) => other.fault === fault).length > 1);
  find("[data-twice]").hidden = !alike.length || content.sound;
  find("[data-twice]").textContent = alike.length ? say("twice", { letters: alike.map(({ letter }) => letter).join(", ") }) : "";
}

const outlines = JSON.parse(document.getElementById("panel-outlines")?.textContent ?? "[]");

stage.onRedraw(() => {
  if (find("[data-outlines]")?.checked) drawRegions(stage, [{ regions: outlines, style: "panel" }]);
  if (showing && !content.sound) {
    const entries = content.entries.map((entry, index) => {
      const moving = index === chosen && editor.moving;
      const regions = entry.regions.map((outline, i) => (moving && moving.region === i ? moving.outline : outline));
      const style = index === chosen && !editor.tool ? "edit" : "key";
      return { letter: moving ? "" : letterOf(index), regions, style };
    });
    entries.sort((a, b) => (a.style === "edit") - (b.style === "edit")); // the chosen one lies on top
    drawRegions(stage, entries);
  }
  editor.draw();
});

// ---- what the server refused ------------------------------------------------------------------------------

function showWrong(refused) {
  wrong = new Map();
  for (const [index, sentence] of refused) if (index !== null) wrong.set(index, [...(wrong.get(index) ?? []), sentence]);
  show();
}

find("[data-enter]").addEventListener("click", () => {
  if (!newEntry()) return;
  changed();
  begin("corners");
});
find("[data-enter-whole]").addEventListener("click", () => {
  if (!newEntry({ whole_dog: true })) return;
  begin(null);
  changed(null, "fault");
});
find("[data-sound]")?.addEventListener("change", (event) => {
  content.sound = event.target.checked;
  begin(null);
  changed();
});
find("[data-note]").value = content.note;
find("[data-note]").addEventListener("input", (event) => {
  content.note = event.target.value;
  steps.add(content, "note");
  keep();
});
find("[data-outlines]")?.addEventListener("change", () => stage.redraw());
find("[data-show]").addEventListener("change", (event) => {
  showing = event.target.checked;
  show();
});
page.addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey) || event.target.matches("textarea, input:not([type=checkbox], [type=radio])")) return;
  const key = event.key.toLowerCase();
  if (key === "z" || key === "y") {
    event.preventDefault();
    go(key === "y" || event.shiftKey ? 1 : -1);
  }
});

show();
keying.begin();
