// The picture of the page: the page as it prints, its inks one upon the other, or the map of total ink; as sharp as the screen asks.

import { element } from "./elements.js";
import { picture } from "./pictures.js";
import { say } from "./texts.js";

const FINENESS_PPI = [18, 24, 36, 54, 72, 110, 150, 220, 300];
const MM_PER_INCH = 25.4;
const SAY_AFTER_MS = 600;
const LOOK_AFTER_MS = 200;

export class Layers {
  /** `tell` hears why a picture cannot be shown, or nothing; `said` hears that it takes a while. */
  constructor(place, stage, mostPixels, { tell, said }) {
    Object.assign(this, { place, stage, mostPixels, tell, said, asked: "", giveUp: new AbortController(), later: 0 });
  }

  /** `look`: {addresses: (ppi) => [address], text, inks}. Shown at once where it is another one, else when zooming has come to rest. */
  show(look, pixelsPerInch, area) {
    clearTimeout(this.later);
    const ppi = fineness(pixelsPerInch, area, this.mostPixels);
    const addresses = look.addresses(ppi);
    if (addresses.join() === this.asked) return;
    const other = look.key !== this.key;
    this.key = look.key;
    this.later = setTimeout(() => this.load(addresses, { ...look, ppi, area }, other), other ? 0 : LOOK_AFTER_MS);
  }

  async load(addresses, look, other) {
    this.giveUp.abort();
    this.giveUp = new AbortController();
    const { signal } = this.giveUp;
    this.asked = addresses.join();
    if (other) this.stage.setAttribute("aria-busy", "true");
    const slow = setTimeout(() => other && this.said(say("The picture is being made …")), SAY_AFTER_MS);
    try {
      const images = await Promise.all(addresses.map(async (address) => image(await picture(address, { signal }))));
      if (signal.aborted) return;
      images.forEach((one, index) => (one.alt = index ? "" : look.text));
      if (look.hasScale) images.forEach((one) => cutScaleOff(one, look));
      this.place.classList.toggle("inks", Boolean(look.inks));
      this.place.replaceChildren(...(images.length ? images : [element("span", { role: "img", "aria-label": look.text })]));
      this.tell("");
      this.said("");
    } catch (error) {
      if (error.name === "AbortError" || signal.aborted) return;
      if (other) this.place.replaceChildren();
      this.asked = "";
      this.tell(error.message);
    } finally {
      clearTimeout(slow);
      if (!signal.aborted) this.stage.removeAttribute("aria-busy");
    }
  }
}

/** The first fineness that is enough for the screen, as far as the service makes it of a page so large (`mostPixels`). */
export function fineness(ppi, [x0, y0, x1, y1], mostPixels) {
  const made = FINENESS_PPI.filter((one) => (inPixels(x1 - x0, one) + 1) * (inPixels(y1 - y0, one) + 1) <= mostPixels);
  return made.find((one) => one >= ppi * 0.92) ?? made.at(-1) ?? FINENESS_PPI[0];
}

/** The map of total ink comes with a scale below it, which the page has in words: only the map is shown, in its place. */
function cutScaleOff(image, { ppi, area: [x0, y0, x1, y1] }) {
  image.style.width = `${(100 * image.naturalWidth) / inPixels(x1 - x0, ppi)}%`;
  image.style.height = `${(100 * image.naturalHeight) / inPixels(y1 - y0, ppi)}%`;
}

const inPixels = (millimetres, ppi) => Math.round((millimetres / MM_PER_INCH) * ppi);

async function image(address) {
  const made = new Image();
  made.src = address;
  made.draggable = false;
  await made.decode();
  return made;
}
