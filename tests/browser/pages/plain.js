import { CheckUpload } from "SERVICE/static/check-upload.mjs";

window.heard = [];
window.breaches = [];
document.addEventListener("securitypolicyviolation", ({ violatedDirective, blockedURI }) => breaches.push(`${violatedDirective} ${blockedURI}`));
window.addEventListener("error", ({ message }) => breaches.push(message));
window.streams = [];
window.EventSource = class extends EventSource {
  constructor(address) {
    super(address);
    streams.push(address);
  }
};
for (const kind of ["started", "progress", "finished", "failed"]) {
  document.addEventListener(`check-${kind}`, ({ target, detail }) => heard.push({ kind, from: target.localName, detail }));
}
document.querySelector("#open").addEventListener("click", () => document.querySelector("dialog").showModal());

// A form in a shadow root, as a design system's components are.
customElements.define("shop-form", class extends HTMLElement {
  constructor() {
    super();
    const form = document.createElement("form"), upload = new CheckUpload();
    Object.assign(upload, { name: "inside", token: "TOKEN" });
    form.append(upload);
    this.attachShadow({ mode: "open" }).append(form);
  }
});
