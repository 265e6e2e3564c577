// A spec of one's own: the printer's published text is read into a draft that a person looks over; a sheet is taken as it is.

import { ask } from "./asking.js";
import { byId, element } from "./elements.js";
import { clear, tell } from "./field_problems.js";
import { say } from "./texts.js";

const LOOKS_LIKE_A_SHEET = /^\s*\{|^(?:extends|id|trim|bleed|pages|margin|color|images|file|marks|text|fonts|title)[ \t]*:[ \t]*(?:$|\{|[a-z0-9-]+$)/m;

const KEPT_AS = "own-sheet";

export class OwnSheet {
  /** `used` hears that the sheet is to be used. */
  constructor(used) {
    this.text = byId("own-text");
    this.sheet = byId("own-sheet");
    byId("own-read").addEventListener("click", () => this.read());
    byId("own-use").addEventListener("click", () => this.use(used));
  }

  get value() {
    return this.sheet.value;
  }

  /** What the service does not take, at the sheet. */
  refuse(sentences) {
    byId("own").open = true;
    byId("own-reading").hidden = false;
    tell("own-sheet-problem", sentences.join(" "), this.sheet);
  }

  use(used) {
    if (!this.value.trim()) return tell("own-sheet-problem", say("The sheet is empty. Write what the file has to be, such as a trim and a bleed."), this.sheet);
    clear("own-sheet-problem", this.sheet);
    return used();
  }

  /** Keeps the sheet for the next file, in this tab only. */
  keep() {
    try {
      sessionStorage.setItem(KEPT_AS, this.value);
    } catch {
      // the browser keeps nothing: it is pasted again
    }
  }

  /** Takes up what was kept. False where there is nothing. */
  takeUp() {
    let kept = null;
    try {
      kept = sessionStorage.getItem(KEPT_AS);
    } catch {
      // nothing is kept here
    }
    if (kept) this.show({ draft_yaml: kept, values: [], drafts: [], not_understood: [], questions: [] });
    return Boolean(kept);
  }

  async read() {
    const text = this.text.value;
    clear("own-problem", this.text);
    if (!text.trim()) return tell("own-problem", say("Paste the printer's text, or a sheet, into this field."), this.text);
    if (LOOKS_LIKE_A_SHEET.test(text)) return this.show({ draft_yaml: text, values: [], drafts: [], not_understood: [], questions: [] });
    byId("own-read").disabled = true;
    try {
      const options = { method: "POST", body: text, headers: { "Content-Type": "text/plain; charset=utf-8" }, patience: 2 };
      const reading = await (await ask("/v1/specs/readings", options)).json();
      if (reading.drafts.some((one) => one.values.length)) return this.show(reading);
      return tell("own-problem", say("Nothing in this text was understood as a demand on a file. Paste the part that names sizes, bleed or resolution."), this.text);
    } catch (refused) {
      return tell("own-problem", refused.message, this.text);
    } finally {
      byId("own-read").disabled = false;
    }
  }

  show(reading) {
    this.choose(reading);
    this.fillIn(reading);
    fill("own-missed", reading.not_understood.map((one) => element("q", {}, one.quote.trim())));
    fill("own-questions", reading.questions.map((one) => one.question));
    byId("own-reading").hidden = false;
    byId("own-reading").focus();
  }

  /** A text of several products has a draft for each; the first is what holds for all of them. */
  choose(reading) {
    byId("own-products").hidden = reading.drafts.length < 2;
    const choice = byId("own-product");
    choice.replaceChildren(...reading.drafts.map((one, index) => element("option", { value: index }, one.product || say("What holds for everything"))));
    choice.onchange = () => this.fillIn(reading.drafts[choice.value]);
  }

  fillIn(draft) {
    const values = draft.values.map((one) => element("li", {}, element("code", {}, `${named(one.pointer)}: ${shown(one.value)}`), " ", element("q", {}, one.quote.trim())));
    const asItIs = element("li", {}, say("This is a sheet already. It is used as it stands."));
    byId("own-values").replaceChildren(...(values.length ? values : [asItIs]));
    this.sheet.value = draft.draft_yaml;
    this.sheet.rows = Math.min(Math.max(draft.draft_yaml.split("\n").length + 1, 5), 24);
    clear("own-sheet-problem", this.sheet);
  }
}

function fill(id, texts) {
  byId(id).hidden = !texts.length;
  byId(`${id}-list`).replaceChildren(...texts.map((text) => element("li", {}, text)));
}

/** '/bleed/minimum' → 'bleed.minimum'. */
function named(pointer) {
  return pointer.slice(1).replaceAll("/", ".");
}

function shown(value) {
  return typeof value === "object" && value !== null ? JSON.stringify(value) : String(value);
}
