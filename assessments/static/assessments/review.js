// A mentor's review: a comment pinned to a spot.
"use strict";

import { pinComments } from "./pinning.js";
import { stage } from "./marked.js";
import "./returning.js";

const form = document.querySelector("[data-comment]");
if (form) pinComments(form, stage);
