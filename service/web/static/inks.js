// The inks of a page, to be shown or left out one by one.

import { ask } from "./asking.js";
import { byId, element } from "./elements.js";
import { number, say } from "./texts.js";

export class Inks {
  /** `changed` hears that other inks are to be shown. */
  constructor(check, { changed }) {
    Object.assign(this, { check, changed, off: new Set(), lists: new Map(), page: 1 });
    this.details = byId("inks");
    this.details.addEventListener("toggle", () => this.details.open && this.list());
  }

  show(page) {
    this.page = page;
    if (this.details.open) this.list();
  }

  /** The inks of the page that are to be shown, as {name, address}; null: all of them, so that the page itself can be shown. */
  chosen() {
    const inks = this.lists.get(this.page);
    return inks?.some((one) => this.off.has(one.name)) ? inks.filter((one) => !this.off.has(one.name)) : null;
  }

  async list() {
    const page = this.page;
    const place = byId("ink-list");
    byId("inks-problem").textContent = "";
    try {
      if (!this.lists.has(page)) {
        place.setAttribute("aria-busy", "true");
        const answer = await (await ask(`${this.check}/pages/${page}/plates?area=picture&ppi=72`, { patience: 6 })).json();
        this.lists.set(page, answer.inks.map((one) => ({ ...one, address: one.links.plate })));
        this.conversion = answer.conversion;
      }
      if (page === this.page) this.fill(place, this.lists.get(page));
    } catch (refused) {
      place.replaceChildren(place.firstElementChild);
      byId("inks-problem").textContent = refused.message;
    } finally {
      place.removeAttribute("aria-busy");
    }
  }

  fill(place, inks) {
    const lines = inks.map((one) => this.line(one));
    const none = element("p", {}, say("There is no ink on this page."));
    place.replaceChildren(place.firstElementChild, ...(lines.length ? lines : [none])); // the legend stays
    byId("inks-hint").hidden = !this.conversion;
    byId("inks-hint").textContent = this.conversion ? say("RGB and Lab colours were converted to the process inks for this view: an estimate.") : "";
    this.changed();
  }

  line({ name, hue, coverage_percent: covered }) {
    const swatch = element("span", { class: "swatch", "aria-hidden": "true" });
    swatch.style.backgroundColor = hue ?? "";
    const box = element("input", { type: "checkbox", onchange: () => this.turn(name, box.checked) });
    box.checked = !this.off.has(name);
    const percent = element("small", {}, say("{percent} % of the page", { percent: number(covered) }));
    return element("label", {}, box, swatch, element("span", {}, `${name} `, percent));
  }

  turn(name, on) {
    if (on) this.off.delete(name);
    else this.off.add(name);
    this.changed();
  }
}
