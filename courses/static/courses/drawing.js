// The picture follows the sliders: the newest wish is fetched as soon as the picture before it has come.
"use strict";

import { drawRegions } from "../shared/js/marks.js";
import { Stage } from "../shared/js/stage.js";

const form = document.getElementById("drawing");
const picture = form.querySelector("[data-picture]");
const impossible = form.querySelector("[data-impossible]");
const box = form.querySelector("[data-show-regions]");
const stage = new Stage(form.querySelector("[data-stage]"));
let regions = [];
let wanted = null;
let busy = false;

form.querySelector("[data-refresh]").hidden = true;

function query() {
  // Only what differs from the ideal stands in the address.
  const words = new URLSearchParams();
  for (const field of form.elements) {
    if (!field.name || field.name === "csrfmiddlewaretoken") continue;
    if (field.type === "range" && Number(field.value) === Number(field.dataset.ideal)) continue;
    words.set(field.name, field.value);
  }
  return words.toString();
}

async function follow() {
  wanted = query();
  if (busy) return;
  busy = true;
  while (wanted !== null) {
    const asked = wanted;
    wanted = null;
    await fetchPicture(asked).catch(() => null);
  }
  busy = false;
}

async function fetchPicture(asked) {
  const response = await fetch(`${form.dataset.preview}?${asked}`);
  impossible.hidden = response.ok;
  if (!response.ok) {
    impossible.textContent = (await response.json()).error;
    return;
  }
  const address = URL.createObjectURL(await response.blob());
  const before = picture.src;
  picture.src = address;
  picture.hidden = false;
  await picture.decode();
  if (before.startsWith("blob:")) URL.revokeObjectURL(before);
  fit();
  history.replaceState(null, "", `?${asked}`);
}

function fit() {
  stage.width = picture.naturalWidth;
  stage.height = picture.naturalHeight;
  stage.longer = Math.max(stage.width, stage.height);
  stage.redraw();
}

let pause = null;
function askRegions() {
  clearTimeout(pause);
  regions = [];
  stage.redraw();
  if (!box.checked) return;
  pause = setTimeout(async () => {
    const response = await fetch(`${form.dataset.regions}?${query()}`).catch(() => null);
    if (response?.ok) regions = (await response.json()).regions;
    stage.redraw();
  }, 300);
}

stage.onRedraw(() => {
  if (box.checked) {
    drawRegions(
      stage,
      regions.map((polygons, index) => ({ regions: polygons, letter: String.fromCharCode(65 + index) })),
    );
  }
});

for (const slider of form.querySelectorAll("input[type=range]")) {
  slider.addEventListener("input", () => {
    const label = slider.closest("label");
    label.querySelector("output").textContent = `${Number(Number(slider.value).toFixed(2))}${slider.dataset.unit}`;
    label.toggleAttribute("data-moved", Number(slider.value) !== Number(slider.dataset.ideal));
  });
}
form.addEventListener("input", (event) => {
  if (event.target === box) return askRegions();
  if (event.target.name === "view") return form.submit();
  follow();
  askRegions();
});
picture.addEventListener("load", fit);
if (picture.complete && picture.naturalWidth) fit();
// Another view that was chosen before this script had come.
if (form.elements.view.value !== form.dataset.view) form.submit();
form.dataset.ready = "1";
