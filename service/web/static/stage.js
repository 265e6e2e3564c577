// The place where the page lies: how large it is shown and which part of it. A picture larger than its place is scrolled, as any
// other content, by wheel, keys and touch; it can also be dragged.

const MM_PER_INCH = 25.4;
const STEP = 1.5;
const LARGEST_PX_PER_MM = 40;
const MOST_ZOOM_BY_ITSELF = 5;
const CLICK_PX = 4;

export class Stage {
  /** `resized` hears that the scale has changed; `clicked` hears where on the page, in mm. */
  constructor(stage, paper, { resized, clicked }) {
    Object.assign(this, { stage, paper, resized, clicked, area: [0, 0, 1, 1], zoom: 1, scale: 1 });
    new ResizeObserver(() => this.lay()).observe(stage.parentElement);
    addEventListener("resize", () => this.lay());
    stage.addEventListener("wheel", (event) => this.wheel(event), { passive: false });
    this.listenToDrags();
    this.listenToPinches();
  }

  /** The page's area in mm: [x0, y0, x1, y1]. */
  show(area) {
    this.area = area;
    this.zoom = 1;
    this.lay();
  }

  get width() {
    return this.area[2] - this.area[0];
  }

  get height() {
    return this.area[3] - this.area[1];
  }

  get pixelsPerInch() {
    return this.scale * MM_PER_INCH * devicePixelRatio;
  }

  get largestZoom() {
    return Math.max(4, LARGEST_PX_PER_MM / this.fit);
  }

  lay() {
    const across = this.stage.parentElement.clientWidth - 2; // within the border
    if (across <= 0) return;
    const most = Math.max(innerHeight * 0.62, 260);
    const height = Math.min(most, (across * this.height) / this.width);
    this.stage.style.height = `${Math.ceil(height) + 2}px`;
    this.fit = Math.min(across / this.width, height / this.height);
    this.zoom = Math.min(this.zoom, this.largestZoom);
    this.scale = this.fit * this.zoom;
    this.paper.style.width = `${this.width * this.scale}px`;
    this.paper.style.height = `${this.height * this.scale}px`;
    this.stage.style.overflow = this.zoom > 1 ? "auto" : "hidden";
    this.resized();
  }

  /** `at`: the point of the screen that stays where it is; without it the middle. */
  zoomTo(zoom, at = this.middle()) {
    const before = this.paper.getBoundingClientRect();
    const x = (at.x - before.left) / this.scale;
    const y = (at.y - before.top) / this.scale;
    this.zoom = Math.min(Math.max(zoom, 1), this.largestZoom);
    this.lay();
    const after = this.paper.getBoundingClientRect();
    this.stage.scrollLeft += after.left + x * this.scale - at.x;
    this.stage.scrollTop += after.top + y * this.scale - at.y;
  }

  larger() {
    this.zoomTo(this.zoom * STEP);
  }

  smaller() {
    this.zoomTo(this.zoom / STEP);
  }

  whole() {
    this.zoomTo(1);
  }

  /** Bring a box of the page into view, large enough to be looked at. */
  showBox([x0, y0, x1, y1]) {
    const part = 0.6;
    const wanted = Math.min((part * this.width) / Math.max(x1 - x0, 1), (part * this.height) / Math.max(y1 - y0, 1));
    this.zoomTo(Math.min(Math.max(wanted, 1), MOST_ZOOM_BY_ITSELF));
    this.stage.scrollLeft = ((x0 + x1) / 2 - this.area[0]) * this.scale - this.stage.clientWidth / 2;
    this.stage.scrollTop = ((y0 + y1) / 2 - this.area[1]) * this.scale - this.stage.clientHeight / 2;
  }

  middle() {
    const { left, top, width, height } = this.stage.getBoundingClientRect();
    return { x: left + width / 2, y: top + height / 2 };
  }

  wheel(event) {
    if (!event.ctrlKey && !event.metaKey) return;
    event.preventDefault();
    this.zoomTo(this.zoom * Math.exp(-event.deltaY / 200), { x: event.clientX, y: event.clientY });
  }

  listenToDrags() {
    let from = null;
    this.stage.addEventListener("pointerdown", (event) => {
      const onBar = event.offsetX > this.stage.clientWidth || event.offsetY > this.stage.clientHeight;
      if (event.button !== 0 || event.target.closest("button") || (event.target === this.stage && onBar)) return;
      from = { x: event.clientX, y: event.clientY, left: this.stage.scrollLeft, top: this.stage.scrollTop };
      if (event.pointerType === "mouse") this.stage.setPointerCapture(event.pointerId);
    });
    this.stage.addEventListener("pointermove", (event) => {
      if (!from || event.pointerType !== "mouse") return; // touch scrolls by itself
      this.stage.classList.add("moving");
      this.stage.scrollLeft = from.left + from.x - event.clientX;
      this.stage.scrollTop = from.top + from.y - event.clientY;
    });
    const end = (event) => {
      this.stage.classList.remove("moving");
      const stayed = from && Math.hypot(event.clientX - from.x, event.clientY - from.y) < CLICK_PX;
      from = null;
      if (stayed && event.type === "pointerup") this.click(event);
    };
    this.stage.addEventListener("pointerup", end);
    this.stage.addEventListener("pointercancel", end);
  }

  click(event) {
    const { left, top } = this.paper.getBoundingClientRect();
    this.clicked(this.area[0] + (event.clientX - left) / this.scale, this.area[1] + (event.clientY - top) / this.scale);
  }

  listenToPinches() {
    let start = null;
    const spread = ([a, b]) => Math.hypot(a.clientX - b.clientX, a.clientY - b.clientY);
    const middle = ([a, b]) => ({ x: (a.clientX + b.clientX) / 2, y: (a.clientY + b.clientY) / 2 });
    this.stage.addEventListener("touchstart", (event) => {
      if (event.touches.length === 2) start = { spread: spread(event.touches), zoom: this.zoom };
    });
    const move = (event) => {
      if (!start || event.touches.length !== 2) return;
      event.preventDefault();
      this.zoomTo((start.zoom * spread(event.touches)) / start.spread, middle(event.touches));
    };
    this.stage.addEventListener("touchmove", move, { passive: false });
    this.stage.addEventListener("touchend", () => (start = null));
    this.stage.addEventListener("touchcancel", () => (start = null));
  }
}
