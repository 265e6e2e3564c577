// The result page: puts the findings and the picture together, so that each leads to the other.

import { byId, drawing, element, marker } from "./elements.js";
import { offerForgetting } from "./forgetting.js";
import { Inks } from "./inks.js";
import { Layers } from "./layers.js";
import { Overlay } from "./overlay.js";
import { Stage } from "./stage.js";
import { Strip } from "./strip.js";
import { say } from "./texts.js";
import { showScale } from "./total_scale.js";

const { check, pages, findings, ink_limit: inkLimit, most_pixels: mostPixels } = JSON.parse(byId("drawn").textContent);
const SLACK_PX = 6;

document.body.classList.add("scripted");
offerForgetting(check);
if (pages.length) view();

function view() {
  let here = null;
  const still = matchMedia("(prefers-reduced-motion: reduce)");
  byId("viewer").hidden = false;

  const layers = new Layers(byId("layers"), byId("stage"), mostPixels, {
    tell: (sentence) => (byId("stage-problem").textContent = sentence),
    said: (sentence) => (byId("stage-said").textContent = sentence),
  });
  const overlay = new Overlay(byId("lines"), byId("places"), { chosen: (number) => read(number) });
  const stage = new Stage(byId("stage"), byId("paper"), { resized, clicked });
  const inks = new Inks(check, { changed: () => draw() });
  const strip = new Strip(byId("strip-list"), { check, pages, findings, mostPixels, turned: (number) => turn(number) });

  // --- Pages and their pictures --------------------------------------------------------------------------------------

  function turn(number) {
    const page = pages[number - 1];
    if (!page || page === here) return;
    here = page;
    byId("page-title").textContent = say("Page {page} of {pages}", { page: number, pages: pages.length });
    byId("page-before").disabled = number === 1;
    byId("page-after").disabled = number === pages.length;
    byId("stage").setAttribute("aria-label", say("Picture of page {page}", { page: number }));
    strip.show(number);
    inks.show(number);
    overlay.show(page, findings);
    key(page);
    stage.show(page.area);
    draw();
  }

  function key(page) {
    const sample = (style) => drawing("svg", { viewBox: "0 0 34 8", "aria-hidden": "true" }, drawing("path", { d: "M0 4h34", class: `line ${style}` }));
    byId("key").replaceChildren(...page.lines.map(({ style, label }) => element("li", {}, sample(style), label)));
  }

  function resized() {
    overlay.lay(stage.scale);
    byId("zoom-out").disabled = stage.zoom <= 1;
    byId("zoom-in").disabled = stage.zoom >= stage.largestZoom;
    if (here) draw();
  }

  function draw() {
    const total = document.querySelector("[name=look]:checked").value === "total";
    showScale(byId("scale"), total, inkLimit);
    layers.show(look(total), stage.pixelsPerInch, here.area);
  }

  function look(total) {
    const page = here.number;
    const address = `${check}/pages/${page}`;
    const chosen = inks.chosen();
    if (total) {
      const text = say("Page {page}: how much ink lies in each place, all inks together", { page });
      return { key: `${page} total`, text, hasScale: true, addresses: (ppi) => [`${address}/plates/total?look=scale&area=picture&ppi=${ppi}`] };
    }
    if (!chosen) return { key: `${page}`, text: say("Page {page} as it will print", { page }), addresses: (ppi) => [`${address}/picture?show=none&ppi=${ppi}`] };
    const names = chosen.map((one) => one.name).join(", ");
    const text = chosen.length ? say("Page {page} in the inks {names}", { page, names }) : say("Page {page} without any ink", { page });
    return { key: `${page} ${names}`, text, inks: true, addresses: (ppi) => chosen.map((one) => plate(one.address, ppi)) };
  }

  // --- Findings and places -------------------------------------------------------------------------------------------

  /** From a finding to its place. */
  function go(number, page) {
    turn(page);
    mark(number);
    byId("show-findings").checked = true;
    overlays();
    const boxes = overlay.boxesOf(number);
    if (boxes.length) stage.showBox(around(boxes));
    if (!overlay.focus(number)) byId("stage").focus({ preventScroll: true });
    byId("viewer").scrollIntoView({ block: "nearest", behavior: still.matches ? "auto" : "smooth" });
  }

  /** From a place to its finding. */
  function read(number) {
    mark(number);
    const text = byId(`finding-${number}`);
    text.focus({ preventScroll: true });
    text.scrollIntoView({ block: "nearest", behavior: still.matches ? "auto" : "smooth" });
  }

  function clicked(x, y) {
    const number = byId("show-findings").checked ? overlay.at(x, y, SLACK_PX / stage.scale) : 0;
    mark(number);
    if (number) byId(`finding-${number}`).scrollIntoView({ block: "nearest", behavior: still.matches ? "auto" : "smooth" });
  }

  function mark(number) {
    overlay.emphasize(number);
    for (const one of document.querySelectorAll(".finding")) {
      if (one.dataset.number === String(number)) one.setAttribute("aria-current", "true");
      else one.removeAttribute("aria-current");
    }
    caption(findings[number - 1]);
  }

  function caption(finding) {
    const place = byId("caption");
    place.hidden = !finding;
    if (!finding) return;
    const link = element("a", { href: `#finding-${finding.number}` }, marker(finding.level, finding.number), say("{topic}: read the finding", { topic: finding.topic }));
    link.addEventListener("click", (event) => {
      event.preventDefault();
      read(finding.number);
    });
    place.replaceChildren(link);
  }

  function overlays() {
    byId("places").hidden = !byId("show-findings").checked || !overlay.here.length;
    overlay.rects.style.display = byId("show-findings").checked ? "" : "none";
    overlay.boxes.style.display = byId("show-lines").checked ? "" : "none";
    byId("key").hidden = !byId("show-lines").checked;
  }

  // --- What people do ------------------------------------------------------------------------------------------------

  for (const button of document.querySelectorAll("[data-go]")) {
    const article = button.closest(".finding");
    button.closest(".go").hidden = false;
    article.dataset.placed = "";
    button.addEventListener("click", () => go(Number(article.dataset.number), Number(button.dataset.go)));
  }
  document.querySelector(".findings").addEventListener("click", (event) => {
    const article = event.target.closest(".finding[data-placed]");
    if (!article || event.target.closest("button, a") || !getSelection().isCollapsed) return;
    article.querySelector("[data-go]").click();
  });
  byId("page-before").addEventListener("click", () => turn(here.number - 1));
  byId("page-after").addEventListener("click", () => turn(here.number + 1));
  byId("zoom-in").addEventListener("click", () => stage.larger());
  byId("zoom-out").addEventListener("click", () => stage.smaller());
  byId("zoom-fit").addEventListener("click", () => stage.whole());
  byId("show-findings").addEventListener("change", overlays);
  byId("show-lines").addEventListener("change", overlays);
  for (const one of document.querySelectorAll("[name=look]")) one.addEventListener("change", draw);
  byId("stage").addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const does = {
      "+": () => stage.larger(), "=": () => stage.larger(), "-": () => stage.smaller(), 0: () => stage.whole(),
      PageDown: () => turn(here.number + 1), PageUp: () => turn(here.number - 1),
    }[event.key];
    if (!does) return;
    event.preventDefault();
    does();
  });

  turn(firstPage());
  overlays();
}

/** Of the first finding that has a place; else page 1. */
function firstPage() {
  const finding = findings.find((one) => one.places.length || one.pages.length);
  return finding ? finding.places[0]?.[0] ?? finding.pages[0] : 1;
}

function around(boxes) {
  return [0, 1].map((side) => Math.min(...boxes.map((box) => box[side]))).concat([2, 3].map((side) => Math.max(...boxes.map((box) => box[side]))));
}

function plate(address, ppi) {
  const made = new URL(address, location.origin);
  for (const [name, value] of Object.entries({ look: "hue", area: "picture", ppi })) made.searchParams.set(name, value);
  return made.pathname + made.search;
}
