// Draws regions on a picture and changes them, by mouse, touch and keyboard alike. A region is a simple polygon;
// rectangles and ellipses are drawn as polygons and can be stretched by their frame.
//
//   const editor = new RegionEditor(stage, { most: { regions, corners }, say, announce, name, onChange, onTap, onState })
//   editor.show(regions)         the regions to be changed, or null for none
//   editor.begin("corners")      draw another: "corners", "box" or "oval"
//   editor.draw()                called whenever the stage is drawn, after what lies under it
//
// onChange(regions, kind) gets the regions after each finished step; onTap(spot) a press beside corners, and
// answers whether another region was meant;
// onState() says that the tool, the corners set so far or what is chosen are others.
"use strict";

import {
  areaOf,
  cornersOf,
  crosses,
  ellipseIn,
  frameBetween,
  frameOf,
  isFrame,
  isInside,
  middle,
  pair,
  rounded,
  shifted,
  spotOf,
  stretched,
  wouldCross,
} from "./outlines.js";
import { keyed } from "./region_keys.js";
import { NEAR, drawEditor } from "./region_view.js";

const LONG_EDGE = 56; // px from which an edge offers a place for a new corner
const BY_FRAME = 16; // corners above which a region is changed by its frame,
const CROWDED = 16; // or px between corners, for more than a third of them, below which it is
const SMALLEST = 0.0001; // of the picture's longer side squared

export class RegionEditor {
  constructor(stage, { most, say, announce, name = () => "", onChange, onTap = () => {}, onState = () => {} }) {
    Object.assign(this, { stage, most, say, announce, name, onChange, onTap, onState });
    this.regions = null;
    this.tool = null;
    this.path = []; // corners set so far
    this.hover = null; // where the mouse is while drawing
    this.moving = null; // { region, outline } while something is dragged
    this.at = null; // { region, corner, byFrame } that keys and buttons mean; corner null: the region itself
    this.eachCorner = false;
    stage.onTap = (spot) => this.tapped(spot);
    stage.onPress = (spot) => this.pressed(spot);
    stage.root.addEventListener("pointermove", (event) => this.hovered(event));
    stage.root.addEventListener("keydown", (event) => keyed(this, event), { capture: true });
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
    return this.byFrame(region) ? cornersOf(frameOf(outline)) : outline;
  }

  outline(region) {
    return this.moving?.region === region ? this.moving.outline : this.regions[region];
  }

  // What was begun by corners or by the frame goes on so, whatever the outline becomes.
  byFrame(region) {
    if (this.at?.region === region && this.at.corner !== null) return this.at.byFrame;
    return !this.eachCorner && this.hasFrame(this.outline(region));
  }

  point(region, corner, byFrame = this.byFrame(region)) {
    this.at = { region, corner, byFrame };
  }

  // Whether it is changed by its frame unless each corner is asked for.
  hasFrame(outline) {
    return isFrame(outline) || outline.length > BY_FRAME || this.isCrowded(outline);
  }

  isCrowded(outline) {
    const short = outline.filter((corner, i) => this.apart(corner, this.stage.toScreen(spotOf(outline[(i + 1) % outline.length]))) < CROWDED);
    return short.length * 3 > outline.length;
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
    if (!this.byFrame(region)) return outline.map((each, i) => (i === corner ? rounded(spot) : each));
    const across = cornersOf(frameOf(outline))[(corner + 2) % 4];
    return stretched(outline, frameBetween(across, rounded(spot)));
  }

  withNewCorner(region, after, spot) {
    const outline = this.regions[region];
    return [...outline.slice(0, after + 1), rounded(spot), ...outline.slice(after + 1)];
  }

  putIn(region, after) {
    const outline = this.regions[region];
    if (this.byFrame(region)) return null;
    if (outline.length >= this.most.corners) return this.announce(this.say("most_corners", { n: this.most.corners }));
    this.point(region, after + 1, false);
    this.announce(this.say("corner_new"));
    this.change(region, this.withNewCorner(region, after, middle(outline, after)), "corner");
    return this.focusAt();
  }

  remove() {
    if (!this.at) return null;
    const { region, corner } = this.at;
    const outline = this.regions[region];
    if (corner === null || this.byFrame(region)) return this.removeRegion(region);
    if (outline.length <= 3) return this.announce(this.say("few"));
    this.point(region, Math.max(0, corner - 1), false);
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
    const byFrame = this.byFrame(hit.region);
    const follow = (spot) => {
      if (hit.after === undefined) this.point(hit.region, hit.corner, byFrame);
      else this.point(hit.region, hit.after + 1, false);
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
      if (this.byFrame(region)) return;
      this.longEdges(region).forEach((after) => found.push({ region, corner: null, after, far: this.apart(pair(middle(outline, after)), spot) + 4 }));
    });
    const nearest = found.sort((a, b) => a.far - b.far)[0];
    if (nearest && nearest.far <= NEAR + 4) return nearest;
    const region = this.regions.findIndex((outline) => isInside(outline, this.stage.toPicture(spot)));
    return region < 0 ? null : { region, corner: null };
  }

  // A press on a region may mean another one that lies over it: onTap says whether it took it.
  chosenAt(spot) {
    const hit = this.regions && this.hit(this.stage.toScreen(spot));
    const onRegion = hit && hit.corner === null && hit.after === undefined;
    if (onRegion && this.onTap(spot)) return undefined;
    if (!hit) {
      this.at = null;
      this.onState();
      return this.onTap(spot);
    }
    if (hit.after !== undefined) return this.putIn(hit.region, hit.after);
    this.point(hit.region, hit.corner);
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

  // ---- what keys and buttons mean --------------------------------------------------------------------------

  goTo(at) {
    this.point(at.region, at.corner);
    this.stage.redraw();
    this.focusAt();
  }

  focused(button) {
    if (!button.dataset.at) return;
    const [region, corner] = button.dataset.at.split("/");
    this.point(Number(region), corner === "" ? null : Number(corner));
    this.onState();
    this.stage.redraw();
  }

  focusAt() {
    if (this.at) this.stage.tabs.querySelector(`[data-at="${this.at.region}/${this.at.corner ?? ""}"]`)?.focus({ preventScroll: true });
  }

  // Where the chosen region, else the first, lies on screen; undefined where there is none.
  middleOnScreen() {
    const outline = this.regions?.[this.at?.region ?? 0];
    if (!outline) return undefined;
    const { left, top, right, foot } = frameOf(outline);
    return this.stage.toScreen({ x: (left + right) / 2, y: (top + foot) / 2 });
  }

  draw() {
    drawEditor(this);
  }
}
