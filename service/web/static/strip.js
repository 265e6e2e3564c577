// The strip of pages: a small picture of each, and how many findings it has. Pictures are made as they come into view.

import { drawing, element } from "./elements.js";
import { fineness } from "./layers.js";
import { picture } from "./pictures.js";
import { say, sayMany } from "./texts.js";

const MM_PER_INCH = 25.4;
const THUMB_PX = 80;

export class Strip {
  /** `turned` hears the number of the page that was chosen. */
  constructor(list, { check, pages, findings, mostPixels, turned }) {
    this.buttons = pages.map((page) => button(page, findings, turned));
    list.replaceChildren(...this.buttons.map((one) => element("li", {}, one)));
    const watch = new IntersectionObserver((seen) => {
      for (const { isIntersecting, target } of seen) {
        if (!isIntersecting) continue;
        watch.unobserve(target);
        load(target, check, pages[Number(target.dataset.page) - 1], mostPixels);
      }
    }, { rootMargin: "100px" });
    this.buttons.forEach((one) => watch.observe(one));
  }

  show(number) {
    this.buttons.forEach((one) => one.removeAttribute("aria-current"));
    const here = this.buttons[number - 1];
    here.setAttribute("aria-current", "page");
    const strip = here.closest(".strip");
    strip.scrollLeft = here.offsetLeft - strip.clientWidth / 2 + here.clientWidth / 2;
  }
}

function button(page, findings, turned) {
  const here = findings.filter((one) => one.pages.includes(page.number) || one.places.some(([number]) => number === page.number));
  const words = here.length ? sayMany("Page {page}, {count} finding", "Page {page}, {count} findings", here.length, { page: page.number }) : say("Page {page}", { page: page.number });
  const tally = element("span", { class: "tally", "aria-hidden": "true" }, ...["must", "should"].filter((level) => here.some((one) => one.level === level)).map(shape));
  const number = element("span", { "aria-hidden": "true" }, String(page.number));
  return element(
    "button",
    { type: "button", "data-page": page.number, "aria-label": words, onclick: () => turned(page.number) },
    element("span", { class: "thumb" }),
    number,
    tally,
  );
}

function shape(level) {
  const inner = level === "must" ? drawing("path", { d: "M8 1l7 7-7 7-7-7Z" }) : drawing("circle", { cx: 8, cy: 8, r: 6 });
  return drawing("svg", { viewBox: "0 0 16 16" }, inner);
}

async function load(target, check, page, mostPixels) {
  const [x0, y0, x1, y1] = page.area;
  const ppi = fineness((THUMB_PX * devicePixelRatio * MM_PER_INCH) / Math.max(x1 - x0, y1 - y0), page.area, mostPixels);
  try {
    const src = await picture(`${check}/pages/${page.number}/picture?show=none&ppi=${ppi}`, { later: true });
    target.querySelector(".thumb").replaceChildren(element("img", { src, alt: "", draggable: "false" }));
  } catch {
    // the page itself says why there is no picture, once it is opened
  }
}
