// What is drawn upon the page: trim, bleed and quiet zone, and the places of the findings, each with a mark that leads to its text.

import { drawing, element, marker } from "./elements.js";
import { say } from "./texts.js";

const MARK_PX = 30;
const EDGE_PX = 15;
const OUTSIDE_PX = 2;
const LEAST_PX = 7;

export class Overlay {
  /** `chosen` hears the number of the finding whose mark was activated. */
  constructor(lines, places, { chosen }) {
    Object.assign(this, { lines, places, chosen, marked: 0, here: [] });
    places.addEventListener("keydown", (event) => this.key(event));
  }

  show(page, findings) {
    this.page = page;
    this.here = findings.flatMap((one) => one.places.filter(([number]) => number === page.number).map(([, ...box]) => ({ ...one, box })));
    const [x0, y0, x1, y1] = page.area;
    this.lines.setAttribute("viewBox", `${x0} ${y0} ${x1 - x0} ${y1 - y0}`);
    this.boxes = drawing("g", {}, ...page.lines.flatMap(({ box, style }) => [rect(box, `halo ${style}`), rect(box, `line ${style}`)]));
    const rects = this.here.flatMap(({ box, level, number }) => ["place ground", `place ${level}`].map((kind) => rect(box, kind, number)));
    this.rects = drawing("g", {}, ...rects);
    this.lines.replaceChildren(this.boxes, this.rects);
    this.marks = this.here.map((place) => this.mark(place));
    this.places.replaceChildren(...this.marks);
    this.places.hidden = !this.marks.length;
    this.emphasize(this.marked);
  }

  mark({ number, level, topic }) {
    const words = level === "must" ? say("Finding {number}, {topic}, to put right", { number, topic }) : say("Finding {number}, {topic}, remark", { number, topic });
    const attributes = { type: "button", class: "place-mark", "data-number": number, "aria-label": words, tabindex: -1, onclick: () => this.chosen(number) };
    return element("button", attributes, marker(level, number));
  }

  /** Put the marks at the corners of their places, none upon another. Places of one finding that lie close share a mark. */
  lay(scale) {
    if (!this.page) return;
    const [x0, y0, x1, y1] = this.page.area;
    this.outline(scale);
    const size = { width: (x1 - x0) * scale, height: (y1 - y0) * scale };
    const taken = [];
    this.here.forEach((place, index) => {
      const [left, top, right, bottom] = place.box.map((one, side) => (one - (side % 2 ? y0 : x0)) * scale);
      const isSmall = Math.min(right - left, bottom - top) < MARK_PX;
      const wish = inside(isSmall ? { x: left - EDGE_PX - 2, y: (top + bottom) / 2 } : { x: left, y: top }, size);
      const point = { ...wish, wish, number: place.number };
      const isShared = taken.some((one) => one.number === point.number && near(one.wish, wish));
      const spot = isShared ? null : freeSpot(point, taken, size, isSmall ? -1 : 1);
      this.marks[index].hidden = !spot;
      if (!spot) return;
      taken.push(spot);
      this.marks[index].style.left = `${spot.x}px`;
      this.marks[index].style.top = `${spot.y}px`;
    });
    this.rove(this.marks.find((one) => one.tabIndex === 0 && !one.hidden) ?? this.visible()[0]);
  }

  /** Just outside the places, so as to hide nothing of them, and never smaller than can be seen. */
  outline(scale) {
    const least = LEAST_PX / scale;
    this.here.forEach(({ box: [x0, y0, x1, y1] }, index) => {
      const [width, height] = [x1 - x0, y1 - y0].map((one) => Math.max(one + (2 * OUTSIDE_PX) / scale, least));
      for (const one of [this.rects.children[2 * index], this.rects.children[2 * index + 1]]) {
        place(one, { x: (x0 + x1 - width) / 2, y: (y0 + y1 - height) / 2, width, height });
      }
    });
  }

  /** Marks the places of one finding; 0: of none. */
  emphasize(number) {
    this.marked = number;
    const isIts = (one) => one.dataset.number === String(number);
    for (const one of this.rects?.children ?? []) one.classList.toggle("marked", isIts(one));
    for (const one of this.marks ?? []) one.classList.toggle("marked", isIts(one));
    this.lines.classList.toggle("marking", this.here.some((one) => one.number === number));
  }

  focus(number) {
    const mark = this.visible().find((one) => one.dataset.number === String(number));
    if (!mark) return false;
    this.rove(mark);
    mark.focus({ preventScroll: true });
    return true;
  }

  boxesOf(number) {
    return this.here.filter((one) => one.number === number).map((one) => one.box);
  }

  /** The finding whose place lies closest around a point; 0 where there is none. */
  at(x, y, slack) {
    const around = this.here.filter(({ box }) => x >= box[0] - slack && x <= box[2] + slack && y >= box[1] - slack && y <= box[3] + slack);
    around.sort((a, b) => area(a.box) - area(b.box));
    return around[0]?.number ?? 0;
  }

  visible() {
    return (this.marks ?? []).filter((one) => !one.hidden);
  }

  /** One stop of the Tab key for all marks; the arrow keys go from one to the next. */
  rove(mark) {
    for (const one of this.marks) one.tabIndex = one === mark ? 0 : -1;
  }

  key(event) {
    const step = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
    const marks = this.visible();
    const at = marks.indexOf(document.activeElement);
    if (!step || at < 0) return;
    event.preventDefault();
    event.stopPropagation();
    const next = marks[(at + step + marks.length) % marks.length];
    this.rove(next);
    next.focus();
  }
}

function rect([x0, y0, x1, y1], kind, number = "") {
  return drawing("rect", { x: x0, y: y0, width: x1 - x0, height: y1 - y0, class: kind, "data-number": number });
}

function place(one, values) {
  for (const [name, value] of Object.entries(values)) one.setAttribute(name, value);
}

const area = ([x0, y0, x1, y1]) => (x1 - x0) * (y1 - y0);

const near = (a, b) => Math.abs(a.x - b.x) < MARK_PX && Math.abs(a.y - b.y) < MARK_PX;

function inside({ x, y }, { width, height }) {
  const within = (value, most) => Math.min(Math.max(value, EDGE_PX), Math.max(most - EDGE_PX, EDGE_PX));
  return { x: within(x, width), y: within(y, height) };
}

/** The wished point, or the next one beside it (`aside`: 1 to the right, -1 to the left) or below that no mark has. */
function freeSpot(point, taken, size, aside) {
  const steps = [0, 1, 2, 3, 4, 5, 6, 7];
  const tries = steps.flatMap((down) => steps.map((across) => ({ across, down }))).sort((a, b) => a.across + a.down - b.across - b.down);
  for (const { across, down } of tries) {
    const spot = { ...point, ...inside({ x: point.x + aside * across * MARK_PX, y: point.y + down * MARK_PX }, size) };
    if (!taken.some((one) => near(one, spot))) return spot;
  }
  return null;
}
