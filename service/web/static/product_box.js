// The search field for products: an editable combobox with a list (ARIA Authoring Practices), over the options of the plain form.

import { byId, element } from "./elements.js";
import { clear } from "./field_problems.js";
import { found } from "./product_search.js";
import { say, sayMany } from "./texts.js";

const PAGE = 6;

export class ProductBox {
  /** `changed` hears the chosen product, or null. */
  constructor(changed) {
    this.changed = changed;
    this.input = byId("product");
    this.list = byId("product-list");
    this.count = byId("product-count");
    this.choices = [...byId("spec").options].filter((one) => one.value).map(choiceOf);
    this.chosen = null;
    this.at = -1;
    this.shown = [];
    this.input.addEventListener("input", () => this.typed());
    this.input.addEventListener("keydown", (event) => this.key(event));
    this.input.addEventListener("click", () => this.open());
    this.input.addEventListener("blur", () => this.left());
    this.list.addEventListener("pointerdown", (event) => event.preventDefault()); // the focus stays in the field
    this.list.addEventListener("click", (event) => this.clicked(event));
    this.choose(this.choices.find((one) => one.id === byId("spec").value) ?? null);
  }

  get isOpen() {
    return !this.list.hidden;
  }

  choose(choice) {
    this.chosen = choice;
    if (choice) {
      this.input.value = choice.title;
      clear("product-problem", this.input);
    }
    this.close();
    this.changed(choice);
  }

  chooseById(id) {
    this.choose(this.choices.find((one) => one.id === id) ?? null);
  }

  typed() {
    if (this.chosen) {
      this.chosen = null;
      this.changed(null);
    }
    this.open(this.input.value);
  }

  open(text = this.chosen ? "" : this.input.value) {
    this.shown = found(this.choices, text);
    const items = this.shown.map((one, index) => item(one, index, one === this.chosen));
    const nothing = say("No product of this name or size. You can let your file find it, or use your printer's own spec, below.");
    this.list.replaceChildren(...(items.length ? items : [element("li", { class: "none", role: "option", "aria-disabled": "true" }, nothing)]));
    this.list.hidden = false;
    this.input.setAttribute("aria-expanded", "true");
    this.count.textContent = items.length ? sayMany("{count} product", "{count} products", items.length) : nothing;
    this.go(this.chosen ? this.shown.indexOf(this.chosen) : -1);
  }

  close() {
    this.list.hidden = true;
    this.input.setAttribute("aria-expanded", "false");
    this.go(-1);
  }

  /** Leaving the field takes the only product that is left, or the one whose name was written out. */
  left() {
    if (!this.isOpen) return;
    const written = this.input.value.trim().toLowerCase();
    const named = this.shown.find((one) => one.title.toLowerCase() === written);
    const only = written && this.shown.length === 1 ? this.shown[0] : null;
    if (!this.chosen && (named ?? only)) this.choose(named ?? only);
    else this.close();
  }

  go(index) {
    this.list.children[this.at]?.classList.remove("at");
    this.at = index;
    const item = index >= 0 ? this.list.children[index] : null;
    item?.classList.add("at");
    item?.scrollIntoView({ block: "nearest" });
    if (item) this.input.setAttribute("aria-activedescendant", item.id);
    else this.input.removeAttribute("aria-activedescendant");
  }

  key(event) {
    const last = this.shown.length - 1;
    const steps = { ArrowDown: 1, ArrowUp: -1, PageDown: PAGE, PageUp: -PAGE };
    if (event.key in steps && !event.altKey) {
      event.preventDefault();
      const wasOpen = this.isOpen;
      if (!wasOpen) this.open();
      const from = this.at < 0 && steps[event.key] < 0 ? last + 1 : this.at;
      if (last >= 0 && (wasOpen || this.at < 0)) this.go(Math.min(Math.max(from + steps[event.key], 0), last));
    } else if (event.key === "Enter" && this.isOpen) {
      event.preventDefault();
      const choice = this.shown[this.at] ?? (this.shown.length === 1 ? this.shown[0] : null);
      if (choice) this.choose(choice);
    } else if (event.key === "Escape" && this.isOpen) {
      event.preventDefault();
      this.close();
    }
  }

  clicked(event) {
    const item = event.target.closest("[data-index]");
    if (item) this.choose(this.shown[Number(item.dataset.index)]);
  }
}

function choiceOf(option) {
  return {
    id: option.value,
    title: option.text,
    facts: option.dataset.facts,
    summary: option.dataset.summary,
    words: option.dataset.words,
    size: option.dataset.size ? option.dataset.size.split(" ").map(Number) : null,
    asksOrder: "asksOrder" in option.dataset,
  };
}

function item(choice, index, selected) {
  const attributes = { role: "option", id: `product-${index}`, "data-index": index, "aria-selected": String(selected) };
  return element("li", attributes, choice.title, element("span", {}, choice.facts));
}
