// The PDF: chosen with the browser's own field, or dropped anywhere on the page.

import { byId } from "./elements.js";
import { clear, tell } from "./field_problems.js";
import { fileSize, say } from "./texts.js";

export class FileChoice {
  constructor(changed) {
    this.input = byId("file");
    this.changed = changed;
    const form = byId("check-form");
    this.maximum = { bytes: Number(form.dataset.maximumBytes), text: form.dataset.maximum };
    document.querySelector(".only-drag").hidden = !matchMedia("(hover: hover)").matches;
    this.input.addEventListener("change", () => this.look());
    addEventListener("dragover", (event) => this.over(event));
    addEventListener("dragleave", (event) => event.relatedTarget === null && this.out());
    addEventListener("drop", (event) => this.dropped(event));
    addEventListener("pageshow", () => this.file && this.look()); // after 'Back' the browser puts the file in again
    this.look();
  }

  get file() {
    return this.input.files[0] ?? null;
  }

  /** True where there is a file that can be sent; otherwise it is said what is missing. */
  isReady() {
    if (!this.file) this.refuse(say("Choose the PDF that is to be checked."));
    else if (!this.file.size) this.refuse(say("This file is empty: it has no bytes."));
    else if (this.file.size > this.maximum.bytes) this.refuse(this.tooLarge());
    else return true;
    return false;
  }

  refuse(sentence) {
    tell("file-problem", sentence, this.input);
  }

  look() {
    clear("file-problem", this.input);
    byId("file-chosen").textContent = this.file ? say("The file is {size}.", { size: fileSize(this.file.size) }) : "";
    if (this.file && this.file.size > this.maximum.bytes) byId("file-problem").textContent = this.tooLarge();
    this.changed(this.file);
  }

  tooLarge() {
    return say("This file is {size}; this service takes up to {maximum}.", { size: fileSize(this.file.size), maximum: this.maximum.text });
  }

  over(event) {
    if (!event.dataTransfer?.types.includes("Files")) return;
    event.preventDefault();
    event.dataTransfer.dropEffect = "copy";
    document.body.classList.add("over");
  }

  out() {
    document.body.classList.remove("over");
  }

  dropped(event) {
    if (!event.dataTransfer?.files.length) return;
    event.preventDefault();
    this.out();
    const several = event.dataTransfer.files.length > 1;
    const one = new DataTransfer();
    one.items.add(event.dataTransfer.files[0]);
    this.input.files = one.files;
    this.look();
    if (several) tell("file-problem", say("One file at a time: the first one was taken."));
    byId("drop").scrollIntoView({ block: "nearest" });
  }
}
