// Choosing one or several of the options.
"use strict";

import { Answering } from "./answering.js";
import "./looking.js";

const answering = new Answering({ take: (content) => take(content), isBlank: () => !chosen().length });
const inputs = [...answering.page.querySelectorAll("[name=chosen]")];

function chosen() {
  return [...document.querySelectorAll("[name=chosen]:checked")].map((input) => input.value);
}

function take(content) {
  for (const input of inputs) input.checked = content.chosen.includes(input.value);
}

for (const input of inputs) input.addEventListener("change", () => answering.keep({ chosen: chosen() }));

take(answering.ask.content);
answering.begin();
