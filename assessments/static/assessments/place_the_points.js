// Answering by placing the points asked.
"use strict";

import { Placing } from "../courses/placing.js";
import { Answering } from "./answering.js";

const answering = new Answering({
  take: (content) => placing.take(content.points),
  isBlank: () => placing.decided < answering.ask.points.length,
});
const placing = new Placing(answering.page, {
  ask: answering.ask,
  points: answering.ask.content.points,
  say: (word, values) => answering.say(word, values),
  onChange: () => answering.keep({ points: placing.points }),
});
answering.begin();
