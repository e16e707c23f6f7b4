// A picture that can be looked at closely and carries marks. Positions are in units of the picture's longer
// side; marks keep their size on screen however close one looks.
"use strict";

const CLOSEST = 6;
const STEP = 0.01;

export class Stage {
  // onTap: a spot of the picture was pressed. onPress: asked with a spot on screen when a finger goes down;
  // what it returns, { move, end, cancel }, follows the finger in place of the picture.
  constructor(root, { onTap = null, onPress = null, step = STEP } = {}) {
    this.root = root;
    this.picture = root.querySelector(".stage-picture");
    this.lines = root.querySelector(".stage-lines");
    this.tabs = root.querySelector(".stage-tabs");
    this.width = Number(root.dataset.width);
    this.height = Number(root.dataset.height);
    this.longer = Math.max(this.width, this.height);
    root.style.setProperty("--shape", this.width / this.height);
    this.onTap = onTap;
    this.onPress = onPress;
    this.drag = null;
    this.step = step; // one press of an arrow key, in picture units, while the whole picture is shown
    this.redraws = [];
    this.cursor = null;
    this.scale = 1;
    this.left = 0;
    this.top = 0;
    this.pointers = new Map();
    this.listen();
    new ResizeObserver(() => this.redraw()).observe(root);
  }

  get box() {
    return { width: this.root.clientWidth, height: this.root.clientHeight };
  }

  get unit() {
    // CSS pixels in one picture unit while the whole picture is shown.
    return this.width >= this.height ? this.box.width : this.box.width * (this.height / this.width);
  }

  toScreen({ x, y }) {
    return { x: x * this.unit * this.scale + this.left, y: y * this.unit * this.scale + this.top };
  }

  toPicture({ x, y }) {
    const limit = (value, side) => Math.min(Math.max(value, 0), side / this.longer);
    return {
      x: limit((x - this.left) / (this.unit * this.scale), this.width),
      y: limit((y - this.top) / (this.unit * this.scale), this.height),
    };
  }

  spotOf(event) {
    const edge = this.root.getBoundingClientRect();
    return { x: event.clientX - edge.left - this.root.clientLeft, y: event.clientY - edge.top - this.root.clientTop };
  }

  onRedraw(draw) {
    this.redraws.push(draw);
    this.redraw();
  }

  redraw() {
    const { width, height } = this.box;
    if (!width) return;
    this.picture.style.transform = `translate(${this.left}px, ${this.top}px) scale(${this.scale})`;
    this.lines.setAttribute("viewBox", `0 0 ${width} ${height}`);
    this.root.classList.toggle("stage-close", this.scale > 1);
    this.lines.replaceChildren();
    this.taken = []; // where tabs, letters and rings stand already
    for (const draw of this.redraws) draw(this);
    this.drawCursor();
  }

  closer(factor, about = { x: this.box.width / 2, y: this.box.height / 2 }) {
    const next = Math.min(Math.max(this.scale * factor, 1), CLOSEST);
    const ratio = next / this.scale;
    this.left = about.x - (about.x - this.left) * ratio;
    this.top = about.y - (about.y - this.top) * ratio;
    this.scale = next;
    this.keepInside();
    this.root.dispatchEvent(new CustomEvent("stage:closer", { detail: this.scale }));
  }

  whole() {
    this.closer(1 / CLOSEST);
  }

  // Bring a spot of the picture into the middle, as far as the picture reaches.
  lookAt({ x, y }, scale) {
    this.closer(scale / this.scale);
    const at = this.toScreen({ x, y });
    this.pan(this.box.width / 2 - at.x, this.box.height / 2 - at.y);
  }

  pan(dx, dy) {
    this.left += dx;
    this.top += dy;
    this.keepInside();
  }

  keepInside() {
    const { width, height } = this.box;
    const within = (value, room, size) => (size < room ? (room - size) / 2 : Math.min(0, Math.max(value, room - size)));
    this.left = within(this.left, width, (this.unit * this.scale * this.width) / this.longer);
    this.top = within(this.top, height, (this.unit * this.scale * this.height) / this.longer);
    this.redraw();
  }

  listen() {
    this.root.addEventListener("pointerdown", (event) => this.pressed(event));
    this.root.addEventListener("pointermove", (event) => this.moved(event));
    for (const end of ["pointerup", "pointercancel"]) this.root.addEventListener(end, (event) => this.lifted(event));
    this.root.addEventListener("keydown", (event) => this.keyed(event));
    this.root.addEventListener("blur", () => this.showCursor(null));
    this.root.addEventListener(
      "wheel",
      (event) => {
        if (!(event.ctrlKey || event.metaKey || this.scale > 1)) return;
        event.preventDefault();
        this.closer(Math.exp(-event.deltaY / 300), this.spotOf(event));
      },
      { passive: false },
    );
  }

  pressed(event) {
    if (event.button || event.target.closest("button")) return;
    this.pointers.set(event.pointerId, this.spotOf(event));
    this.travelled = this.pointers.size > 1 ? Infinity : 0;
    this.drag?.cancel();
    this.drag = this.pointers.size === 1 ? (this.onPress?.(this.spotOf(event)) ?? null) : null;
    if (this.drag) this.root.setPointerCapture(event.pointerId);
  }

  moved(event) {
    const before = this.pointers.get(event.pointerId);
    if (!before) return;
    const now = this.spotOf(event);
    const [dx, dy] = [now.x - before.x, now.y - before.y];
    if (this.pointers.size === 2) {
      const other = [...this.pointers].find(([id]) => id !== event.pointerId)[1];
      const apart = (spot) => Math.hypot(spot.x - other.x, spot.y - other.y) || 1;
      this.closer(apart(now) / apart(before), { x: (now.x + other.x) / 2, y: (now.y + other.y) / 2 });
    } else {
      this.travelled += Math.hypot(dx, dy);
      if (this.travelled > 6 && this.drag) this.drag.move(now);
      else if (this.travelled > 6 && this.scale > 1) this.pan(dx, dy);
    }
    this.pointers.set(event.pointerId, now);
  }

  lifted(event) {
    if (!this.pointers.delete(event.pointerId)) return;
    const drag = this.drag;
    this.drag = null;
    if (drag && event.type === "pointerup" && this.travelled > 6) drag.end(this.spotOf(event));
    else drag?.cancel();
    if (event.type === "pointerup" && this.travelled <= 6 && this.onTap) this.onTap(this.toPicture(this.spotOf(event)));
  }

  keyed(event) {
    if (event.target !== this.root) return;
    const arrows = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
    if (event.key in arrows && this.onTap) {
      const [dx, dy] = arrows[event.key].map((way) => (way * this.step * (event.shiftKey ? 5 : 1)) / this.scale);
      const from = this.cursor ?? this.toPicture({ x: this.box.width / 2, y: this.box.height / 2 });
      const limit = (value, side) => Math.min(Math.max(value, 0), side / this.longer);
      this.showCursor({ x: limit(from.x + dx, this.width), y: limit(from.y + dy, this.height) });
    } else if (event.key === "Enter" && this.cursor && this.onTap) {
      this.onTap({ ...this.cursor });
    } else if (event.key === "+" || event.key === "=") {
      this.closer(1.5, this.cursor ? this.toScreen(this.cursor) : undefined);
    } else if (event.key === "-") {
      this.closer(1 / 1.5);
    } else if (event.key === "0") {
      this.whole();
    } else {
      return;
    }
    event.preventDefault();
  }

  showCursor(cursor) {
    this.cursor = cursor;
    if (cursor && this.scale > 1) this.followCursor();
    this.redraw();
  }

  followCursor() {
    const { x, y } = this.toScreen(this.cursor);
    const { width, height } = this.box;
    const beyond = (value, size) => Math.min(0, value - 40) || Math.max(0, value - (size - 40));
    this.left -= beyond(x, width);
    this.top -= beyond(y, height);
  }

  drawCursor() {
    if (!this.cursor) return;
    const { x, y } = this.toScreen(this.cursor);
    const d = `M${x - 16} ${y}H${x - 5}M${x + 5} ${y}H${x + 16}M${x} ${y - 16}V${y - 5}M${x} ${y + 5}V${y + 16}`;
    this.lines.append(draw("path", { d, class: "casing" }), draw("path", { d, class: "cursor-cross" }));
  }
}

export function draw(name, attributes) {
  const element = document.createElementNS("http://www.w3.org/2000/svg", name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  return element;
}
