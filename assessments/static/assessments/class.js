// A class: what is found on each exhibit, and the placing.
"use strict";

import { Answering } from "./answering.js";
import { Findings } from "./findings.js";
import { Looks } from "./looks.js";
import { Placing } from "./placing.js";

const answering = new Answering({ take: (other) => take(other), isBlank: () => !content.placing.length && !written().length });
const { page, ask } = answering;
const say = (word, values) => answering.say(word, values);
const find = (selector) => answering.find(selector);
const nothing = find("[data-nothing]");
let content = structuredClone(ask.content);

const placing = new Placing(find("[data-placing]"), {
  say,
  onChoose: (id) => looks.look(id),
  onChange: (placed, id) => {
    content.placing = [...placed];
    const n = placed.indexOf(id) + 1;
    answering.announce(say(n ? "placed" : "out", { letter: placing.letter(id), n, of: placed.length }));
    changed();
  },
});
const findings = ask.asks_findings
  ? new Findings(page, {
      faults: ask.faults,
      say,
      onChange: (rows) => found({ faults: rows.map((row) => row.fault), nothing: false }),
    })
  : null;
const looks = new Looks(find("[data-looks]"), { onLook: () => showFindings() });

function of(exhibit) {
  return content.findings[exhibit] ?? { faults: [], nothing: false };
}

function written() {
  return Object.keys(content.findings).filter((exhibit) => of(exhibit).faults.length || of(exhibit).nothing);
}

function found(what) {
  content.findings[looks.shown] = what;
  nothing.checked = what.nothing;
  changed();
}

function showFindings() {
  if (!findings) return;
  const letter = placing.letter(Number(looks.shown));
  find("[data-findings-title]").textContent = say("faults_of", { letter });
  findings.take(of(looks.shown).faults.map((fault) => ({ fault })), letter);
  nothing.checked = of(looks.shown).nothing;
}

function showUnfinished() {
  const open = findings ? placing.ids.filter((id) => !written().includes(String(id))) : [];
  const lines = [
    content.placing.length < placing.ids.length && say("unfinished"),
    open.length && say("unwritten", { letters: open.map((id) => placing.letter(id)).join(", ") }),
  ];
  find("[data-unfinished]").textContent = lines.filter(Boolean).join(" ");
}

function changed() {
  answering.keep(content);
  showUnfinished();
}

function take(other) {
  content = structuredClone(other);
  placing.take(content.placing);
  showFindings();
  showUnfinished();
}

nothing?.addEventListener("change", () => {
  found({ faults: [], nothing: nothing.checked });
  showFindings();
});

take(content);
answering.begin();
