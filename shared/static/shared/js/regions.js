// Draws regions on a picture and changes them, by mouse, touch and keyboard alike. A region is a simple polygon;
// rectangles and ellipses are drawn as polygons and can be stretched by their frame.
//
//   const editor = new RegionEditor(stage, { most: { regions, corners }, say, announce, name, onChange, onTap, onState })
//   editor.show(regions)         the regions to be changed, or null for none
//   editor.begin("corners")      draw another: "corners", "box" or "oval"
//   editor.draw()                called whenever the stage is drawn, after what lies under it
//
// onChange(regions, kind) gets the regions after each finished step; onTap(spot) a press beside all of them;
// onState() says that the tool, the corners set so far or what is chosen are others.
"use strict";

import { pathOf } from "./marks.js";
import { areaOf, cornersOf, crosses, ellipseIn, frameBetween, frameOf, isFrame, isInside, rounded, shifted, stretched, wouldCross } from "./outlines.js";
import { draw } from "./stage.js";

const HANDLE = 14;
const NEAR = 13; // px within which a handle is meant: a target of 26
const NUDGE = 0.005;
const LONG_EDGE = 56; // px from which an edge offers a place for a new corner
const BY_FRAME = 16; // corners above which a region is changed by its frame
const SMALLEST = 0.0001; // of the picture's longer side squared
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

export class RegionEditor {
  constructor(stage, { most, say, announce, name = () => "", onChange, onTap = () => {}, onState = () => {} }) {
    Object.assign(this, { stage, most, say, announce, name, onChange, onTap, onState });
    this.regions = null;
    this.tool = null;
    this.path = []; // corners set so far
    this.hover = null; // where the mouse is while drawing
    this.moving = null; // { region, outline } while something is dragged
    this.at = null; // { region, corner } that keys and buttons mean; corner null: the region itself
    this.eachCorner = false;
    stage.onTap = (spot) => this.tapped(spot);
    stage.onPress = (spot) => this.pressed(spot);
    stage.root.addEventListener("pointermove", (event) => this.hovered(event));
    stage.root.addEventListener("keydown", (event) => this.keyed(event), { capture: true });
    stage.tabs.addEventListener("focusin", (event) => this.focused(event.target));
  }

  show(regions) {
    this.regions = regions;
    this.moving = null;
    if (this.at && !regions?.[this.at.region]) this.at = null;
    if (this.at && this.at.corner >= this.handles(this.at.region).length) this.at.corner = null;
  }

  // ---- drawing another -----------------------------------------------------------------------------------

  begin(tool) {
    this.path = [];
    this.hover = null;
    this.tool = tool;
    if (tool && this.regions?.length >= this.most.regions) {
      this.announce(this.say("most_regions", { n: this.most.regions }));
      this.tool = null;
    }
    this.stage.root.classList.toggle("stage-drawing", this.tool === "box" || this.tool === "oval");
    this.onState();
    this.stage.redraw();
  }

  leave() {
    if (this.path.length) this.announce(this.say("left"));
    this.begin(null);
  }

  stepBack() {
    this.path.pop();
    this.onState();
    this.stage.redraw();
  }

  tapped(spot) {
    if (this.tool === "corners") this.setCorner(spot);
    else if (this.tool && this.path.length) this.finishFrame(this.path[0], rounded(spot));
    else if (this.tool) this.setFirst(spot);
    else this.chosenAt(spot);
  }

  setCorner(spot) {
    if (this.path.length >= 3 && this.isNear(this.path[0], this.stage.toScreen(spot))) return this.close();
    if (this.path.length >= this.most.corners) return this.announce(this.say("most_corners", { n: this.most.corners }));
    if (wouldCross(this.path, rounded(spot))) return this.announce(this.say("crosses"));
    return this.setFirst(spot);
  }

  setFirst(spot) {
    this.path.push(rounded(spot));
    this.announce(this.say("begun", { n: this.path.length }));
    this.onState();
    this.stage.redraw();
  }

  close() {
    if (this.path.length < 3) return this.announce(this.say("few"));
    if (crosses(this.path)) return this.announce(this.say("crosses"));
    return this.finish(this.path);
  }

  finishFrame(from, to) {
    const frame = frameBetween(from, to);
    return this.finish(this.tool === "oval" ? ellipseIn(frame) : cornersOf(frame));
  }

  finish(outline) {
    if (areaOf(outline) < SMALLEST) {
      this.path = [];
      this.stage.redraw();
      return this.announce(this.say("small"));
    }
    const regions = [...(this.regions ?? []), outline];
    this.at = { region: regions.length - 1, corner: null };
    this.begin(null);
    this.announce(this.say("closed", { n: outline.length }));
    return this.onChange(regions, "drawn");
  }

  // ---- changing what is there ----------------------------------------------------------------------------

  handles(region) {
    const outline = this.outline(region);
    return this.byFrame(outline) ? cornersOf(frameOf(outline)) : outline;
  }

  outline(region) {
    return this.moving?.region === region ? this.moving.outline : this.regions[region];
  }

  byFrame(outline) {
    return !this.eachCorner && (isFrame(outline) || outline.length > BY_FRAME);
  }

  change(region, outline, kind) {
    const small = areaOf(outline) < SMALLEST;
    if (small || crosses(outline)) {
      this.announce(this.say(small ? "small" : "crosses"));
      return this.stage.redraw();
    }
    return this.onChange(this.regions.map((each, i) => (i === region ? outline : each)), kind);
  }

  withHandleAt(region, corner, spot) {
    const outline = this.regions[region];
    if (!this.byFrame(outline)) return outline.map((each, i) => (i === corner ? rounded(spot) : each));
    const across = cornersOf(frameOf(outline))[(corner + 2) % 4];
    return stretched(outline, frameBetween(across, rounded(spot)));
  }

  withNewCorner(region, after, spot) {
    const outline = this.regions[region];
    return [...outline.slice(0, after + 1), rounded(spot), ...outline.slice(after + 1)];
  }

  putIn(region, after) {
    const outline = this.regions[region];
    if (this.byFrame(outline)) return null;
    if (outline.length >= this.most.corners) return this.announce(this.say("most_corners", { n: this.most.corners }));
    this.at = { region, corner: after + 1 };
    this.announce(this.say("corner_new"));
    this.change(region, this.withNewCorner(region, after, middle(outline, after)), "corner");
    return this.focusAt();
  }

  remove() {
    if (!this.at) return null;
    const { region, corner } = this.at;
    const outline = this.regions[region];
    if (corner === null || this.byFrame(outline)) return this.removeRegion(region);
    if (outline.length <= 3) return this.announce(this.say("few"));
    this.at = { region, corner: Math.max(0, corner - 1) };
    this.announce(this.say("corner_gone"));
    this.change(region, outline.filter((_, i) => i !== corner), "corner");
    return this.focusAt();
  }

  removeRegion(region) {
    this.at = null;
    this.announce(this.say("region_gone"));
    this.stage.root.focus({ preventScroll: true });
    return this.onChange(this.regions.filter((_, i) => i !== region), "region");
  }

  // ---- mouse and touch -----------------------------------------------------------------------------------

  pressed(spot) {
    if (this.tool === "box" || this.tool === "oval") return this.dragFrame(spot);
    if (this.tool || !this.regions) return null;
    const hit = this.hit(spot);
    if (!hit) return null;
    const { region, corner, after } = hit;
    const from = this.stage.toPicture(spot);
    return this.dragOutline(hit, (now) => {
      if (after !== undefined) return this.withNewCorner(region, after, now);
      if (corner !== null) return this.withHandleAt(region, corner, now);
      return shifted(this.regions[region], now.x - from.x, now.y - from.y, this.edge);
    });
  }

  get edge() {
    return { x: this.stage.width / this.stage.longer, y: this.stage.height / this.stage.longer };
  }

  dragFrame(start) {
    const from = this.path[0] ?? rounded(this.stage.toPicture(start));
    return {
      move: (spot) => {
        this.path = [from];
        this.hover = this.stage.toPicture(spot);
        this.stage.redraw();
      },
      end: (spot) => this.finishFrame(from, rounded(this.stage.toPicture(spot))),
      cancel: () => {
        this.hover = null;
      },
    };
  }

  dragOutline(hit, outlineAt) {
    const follow = (spot) => {
      this.at = { region: hit.region, corner: hit.after === undefined ? hit.corner : hit.after + 1 };
      this.moving = { region: hit.region, outline: outlineAt(this.stage.toPicture(spot)) };
    };
    return {
      move: (spot) => {
        follow(spot);
        this.stage.redraw();
      },
      end: (spot) => {
        follow(spot);
        const { outline } = this.moving;
        this.moving = null;
        this.change(hit.region, outline, "dragged");
        this.focusAt();
      },
      cancel: () => {
        this.moving = null;
        this.stage.redraw();
      },
    };
  }

  // What lies under a spot on screen: a corner before the middle of an edge before the region itself.
  hit(spot) {
    const found = [];
    this.regions.forEach((outline, region) => {
      this.handles(region).forEach((handle, corner) => found.push({ region, corner, far: this.apart(handle, spot) }));
      if (this.byFrame(outline)) return;
      this.longEdges(region).forEach((after) => found.push({ region, corner: null, after, far: this.apart(pair(middle(outline, after)), spot) + 4 }));
    });
    const nearest = found.sort((a, b) => a.far - b.far)[0];
    if (nearest && nearest.far <= NEAR + 4) return nearest;
    const region = this.regions.findIndex((outline) => isInside(outline, this.stage.toPicture(spot)));
    return region < 0 ? null : { region, corner: null };
  }

  chosenAt(spot) {
    const hit = this.regions && this.hit(this.stage.toScreen(spot));
    if (!hit) {
      this.at = null;
      this.onState();
      return this.onTap(spot);
    }
    if (hit.after !== undefined) return this.putIn(hit.region, hit.after);
    this.at = { region: hit.region, corner: hit.corner };
    this.stage.redraw();
    return this.focusAt();
  }

  hovered(event) {
    if (!this.tool || event.pointerType === "touch" || this.stage.drag) return;
    this.hover = this.stage.toPicture(this.stage.spotOf(event));
    if (this.path.length) this.stage.redraw();
  }

  apart([x, y], spot) {
    const at = this.stage.toScreen({ x, y });
    return Math.hypot(at.x - spot.x, at.y - spot.y);
  }

  isNear(corner, spot) {
    return this.apart(corner, spot) <= NEAR;
  }

  longEdges(region) {
    const outline = this.outline(region);
    if (outline.length >= this.most.corners) return [];
    const onScreen = outline.map(([x, y]) => this.stage.toScreen({ x, y }));
    const long = (i) => {
      const [a, b] = [onScreen[i], onScreen[(i + 1) % onScreen.length]];
      return Math.hypot(a.x - b.x, a.y - b.y) >= LONG_EDGE;
    };
    return outline.map((_, i) => i).filter(long);
  }

  // ---- keys ----------------------------------------------------------------------------------------------

  keyed(event) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const done = event.target === this.stage.root ? this.keyedWhileDrawing(event) : this.keyedOnHandle(event);
    if (!done) return;
    event.preventDefault();
    event.stopPropagation();
  }

  keyedWhileDrawing({ key }) {
    this.hover = null;
    if (!this.tool) return false;
    if (key === "Escape") this.leave();
    else if (key === "Backspace" || key === "Delete") this.stepBack();
    else if (key.toLowerCase() === "c" && this.tool === "corners") this.close();
    else return false;
    return true;
  }

  keyedOnHandle(event) {
    if (!this.at || !this.stage.tabs.contains(event.target)) return false;
    const { region, corner } = this.at;
    const count = this.handles(region).length;
    const go = (step) => this.goTo({ region, corner: ((corner ?? (step > 0 ? -1 : count)) + step + count) % count });
    const acts = {
      n: () => go(1),
      p: () => go(-1),
      i: () => corner !== null && this.putIn(region, corner),
      delete: () => this.remove(),
      backspace: () => this.remove(),
      escape: () => this.stage.root.focus(),
    };
    if (event.key in ARROWS) this.nudge(event);
    else if (event.key.toLowerCase() in acts) acts[event.key.toLowerCase()]();
    else return false;
    return true;
  }

  nudge({ key, shiftKey }) {
    const { region, corner } = this.at;
    const [right, down] = ARROWS[key];
    const outline = this.regions[region];
    if (corner === null && shiftKey) return this.change(region, this.grown(outline, right, down), "nudge");
    const step = (NUDGE * (shiftKey ? 8 : 1)) / this.stage.scale;
    if (corner === null) return this.change(region, shifted(outline, right * step, down * step, this.edge), "nudge");
    const [x, y] = this.handles(region)[corner];
    const limit = (value, far) => Math.min(Math.max(value, 0), far);
    const spot = { x: limit(x + right * step, this.edge.x), y: limit(y + down * step, this.edge.y) };
    return this.change(region, this.withHandleAt(region, corner, spot), "nudge");
  }

  grown(outline, right, down) {
    const frame = frameOf(outline);
    const step = (NUDGE * 2) / this.stage.scale;
    const far = Math.min(Math.max(frame.right + right * step, frame.left + NUDGE), this.edge.x);
    const low = Math.min(Math.max(frame.foot + down * step, frame.top + NUDGE), this.edge.y);
    return stretched(outline, { ...frame, right: far, foot: low });
  }

  goTo(at) {
    this.at = at;
    this.stage.redraw();
    this.focusAt();
  }

  focused(button) {
    if (!button.dataset.at) return;
    const [region, corner] = button.dataset.at.split("/");
    this.at = { region: Number(region), corner: corner === "" ? null : Number(corner) };
    this.onState();
    this.stage.redraw();
  }

  focusAt() {
    if (this.at) this.stage.tabs.querySelector(`[data-at="${this.at.region}/${this.at.corner ?? ""}"]`)?.focus({ preventScroll: true });
  }

  // ---- what is seen --------------------------------------------------------------------------------------

  draw() {
    if (this.tool) this.drawPath();
    const shown = this.tool ? [] : (this.regions ?? []);
    shown.forEach((_, region) => this.drawHandles(region));
    this.setButtons(shown);
  }

  drawPath() {
    const cursor = this.stage.cursor ?? this.hover;
    const going = cursor ? [...this.path, rounded(cursor)] : this.path;
    if (!this.path.length) return;
    let outline = going;
    if (this.tool !== "corners" && going.length > 1) {
      const frame = frameBetween(going[0], going[going.length - 1]);
      outline = this.tool === "oval" ? ellipseIn(frame) : cornersOf(frame);
    }
    const d = pathOf(this.stage, outline);
    const open = this.tool === "corners" ? d.slice(0, -1) : d;
    this.line(open, "casing region-casing");
    this.line(open, "region region-edit");
    this.path.forEach((corner, i) => this.square(corner, `handle-square${i === 0 && this.path.length > 2 ? " handle-first" : ""}`));
  }

  drawHandles(region) {
    const outline = this.outline(region);
    const hold = draw("path", { d: pathOf(this.stage, outline), class: "region-hold" });
    this.stage.lines.append(hold);
    if (!this.byFrame(outline) && !this.moving) for (const after of this.longEdges(region)) this.square(pair(middle(outline, after)), "handle-middle", 8);
    this.handles(region).forEach((corner, i) => {
      const chosen = this.at?.region === region && this.at.corner === i;
      this.square(corner, `handle-square${chosen ? " handle-chosen" : ""}`);
    });
  }

  line(d, kind) {
    this.stage.lines.append(draw("path", { d, class: kind }));
  }

  square([x, y], kind, size = HANDLE) {
    const at = this.stage.toScreen({ x, y });
    const box = (side) => ({ x: at.x - side / 2, y: at.y - side / 2, width: side, height: side });
    this.stage.lines.append(draw("rect", { ...box(2 * NEAR), class: "handle-hold" }), draw("rect", { ...box(size), class: kind }));
  }

  // One button for each region and one for its corners lie over the drawing, for keys and screen readers.
  setButtons(shown) {
    const wanted = shown.flatMap((_, region) => [
      this.buttonOf(region, null),
      ...this.handles(region).map((_corner, i) => this.buttonOf(region, i)),
    ]);
    const known = new Map([...this.stage.tabs.children].map((button) => [button.dataset.at, button]));
    for (const { id, label, spot, tabbable } of wanted) {
      const button = known.get(id) ?? this.newButton(id);
      known.delete(id);
      button.setAttribute("aria-label", label);
      button.tabIndex = tabbable ? 0 : -1;
      button.style.left = `${spot.x}px`;
      button.style.top = `${spot.y}px`;
    }
    for (const button of known.values()) button.remove();
  }

  newButton(id) {
    const button = document.createElement("button");
    button.type = "button";
    button.className = id.endsWith("/") ? "handle handle-region" : "handle";
    button.dataset.at = id;
    this.stage.tabs.append(button);
    return button;
  }

  buttonOf(region, corner) {
    const handles = this.handles(region);
    const values = { n: (corner ?? region) + 1, of: handles.length, region: region + 1, corners: handles.length, letter: this.name() };
    const frame = frameOf(this.outline(region));
    const [x, y] = corner === null ? [(frame.left + frame.right) / 2, (frame.top + frame.foot) / 2] : handles[corner];
    const current = this.at?.region === region ? (this.at.corner ?? 0) : 0;
    return {
      id: `${region}/${corner ?? ""}`,
      label: this.say(corner === null ? "region" : "corner", values),
      spot: this.stage.toScreen({ x, y }),
      tabbable: corner === null || corner === current,
    };
  }
}

function middle(outline, after) {
  const [[x1, y1], [x2, y2]] = [outline[after], outline[(after + 1) % outline.length]];
  return { x: (x1 + x2) / 2, y: (y1 + y2) / 2 };
}

const pair = ({ x, y }) => [x, y];
