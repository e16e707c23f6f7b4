// The key of a class: the official placing, the cuts between neighbours, and the faults of each exhibit.
"use strict";

import { Findings } from "./findings.js";
import { Keying } from "./keying.js";
import { Looks } from "./looks.js";
import { Placing } from "./placing.js";

const keying = new Keying({ take: (other) => take(other) });
const { page, known } = keying;
const say = (word, values) => keying.say(word, values);
const find = (selector) => keying.find(selector);
const [note, total, cuts] = [find("[data-note]"), find("[data-total]"), find("[data-cuts]")];
let content = known.content;

const placing = new Placing(find("[data-placing]"), {
  say,
  whole: true,
  onChoose: (id) => looks.look(id),
  onChange: (order, id) => {
    content.order = [...order];
    keying.announce(say("placed", { letter: placing.letter(id), n: order.indexOf(id) + 1, of: order.length }));
    showCuts();
    changed();
  },
});
const findings = find("[data-found]")
  ? new Findings(page, {
      faults: known.faults,
      say,
      most: known.most,
      onChange: (rows) => {
        content.faults[looks.shown] = rows;
        showSound();
        changed();
      },
    })
  : null;
const looks = new Looks(find("[data-looks]"), { onLook: () => showFindings() });

function showFindings() {
  if (!findings) return;
  const letter = placing.letter(Number(looks.shown));
  find("[data-findings-title]").textContent = say("faults_of", { letter });
  findings.take(content.faults[looks.shown] ?? [], letter);
  showSound();
}

function showSound() {
  find("[data-sound]").textContent = content.faults[looks.shown]?.length ? "" : say("none");
}

function showCuts() {
  cuts.replaceChildren(...content.cuts.map(cutRow));
}

function cutRow(cut, index) {
  const row = document.getElementById("cut-row").content.firstElementChild.cloneNode(true);
  const [label, input] = [row.querySelector("label"), row.querySelector("input")];
  input.id = `cut-${index}`;
  label.htmlFor = input.id;
  label.textContent = say("cut", { above: placing.letter(content.order[index]), below: placing.letter(content.order[index + 1]) });
  input.value = cut ?? "";
  input.addEventListener("input", () => {
    const given = input.value === "" ? null : Number(input.value);
    const good = given === null || (given >= 0 && given <= 1000);
    input.setAttribute("aria-invalid", String(!good));
    if (!good) return;
    content.cuts[index] = given;
    changed();
  });
  return row;
}

function missing() {
  if (content.cuts.includes(null)) return [say("no_cuts")];
  return content.cuts.some((cut) => cut > 0) ? [] : [say("no_order")];
}

function changed() {
  keying.showMissing(missing());
  keying.keep(content);
}

function take(other) {
  content = other;
  note.value = content.note;
  if (total) total.value = content.total;
  placing.take(content.order);
  showCuts();
  showFindings();
  keying.showMissing(missing());
}

total?.addEventListener("input", () => {
  const given = Number(total.value);
  total.setAttribute("aria-invalid", String(!(given > 0)));
  if (!(given > 0)) return;
  content.total = given;
  changed();
});
note.addEventListener("input", () => {
  content.note = note.value;
  keying.keep(content);
});

take(content);
keying.begin();
