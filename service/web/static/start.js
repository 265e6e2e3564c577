// The upload page: choose a product, add the file, send both, go to the result.

import { takeKey } from "./api_key.js";
import { inLanguage } from "./asking.js";
import { byId, element } from "./elements.js";
import { clear, tell } from "./field_problems.js";
import { FileChoice } from "./file_choice.js";
import { offerMatches } from "./matching.js";
import { OwnSheet } from "./own_sheet.js";
import { ProductBox } from "./product_box.js";
import { send } from "./sending.js";
import { fileSize, number, say } from "./texts.js";

const form = byId("check-form");
const facts = { inner_pages: byId("inner-pages"), caliper_mm: byId("caliper") };
const key = document.getElementById("key"); // where the service asks for one
let usesOwn = false;
let sending = null;

byId("product-plain").hidden = true;
byId("product-search").hidden = false;
byId("spec").disabled = true; // the form is sent by hand
form.noValidate = true;
if (key) takeKey(key);

let otherFile = () => {};
const file = new FileChoice(() => {
  clear("send-problem");
  otherFile();
});
const own = new OwnSheet(() => useOwn(true));
const products = new ProductBox((choice) => {
  if (choice) usesOwn = false;
  showProduct(choice);
});
otherFile = offerMatches(file, (id) => {
  products.chooseById(id);
  products.input.focus();
});
if (new URLSearchParams(location.search).has("own") && own.takeUp()) useOwn(true);

function showProduct(choice) {
  const place = byId("product-chosen");
  place.hidden = !choice;
  place.replaceChildren();
  byId("order-facts").hidden = !choice?.asksOrder;
  if (!choice) return;
  const sheet = element("a", { href: `/specs/${encodeURIComponent(choice.id)}${location.search.includes("lang=") ? `?lang=${document.documentElement.lang}` : ""}` }, say("What is asked, and an empty document"));
  place.append(element("p", {}, [choice.facts, choice.summary].filter(Boolean).join(" · ")), element("p", {}, sheet));
}

function useOwn(yes) {
  products.choose(null);
  products.input.value = "";
  usesOwn = yes;
  if (!yes) return products.input.focus();
  clear("product-problem", products.input);
  const back = element("button", { type: "button", class: "quiet", onclick: () => useOwn(false) }, say("Choose from the list instead"));
  byId("product-chosen").replaceChildren(element("p", {}, say("The file is checked against your printer's own spec, as it stands below.")), element("p", {}, back));
  byId("product-chosen").hidden = false;
  byId("own").open = false;
  return file.input.focus();
}
products.input.addEventListener("input", () => {
  if (usesOwn) showProduct(null);
  usesOwn = false;
});

// --- Sending ---------------------------------------------------------------------------------------------------------

form.addEventListener("submit", async (event) => {
  event.preventDefault();
  if (sending || !isReady()) return;
  busy(true);
  try {
    sending = send(filledForm(), showProgress);
    const check = await sending.done;
    if (usesOwn) own.keep();
    location.assign(inLanguage(`/checks/${check.id}`));
  } catch (refused) {
    busy(false);
    if (refused.name === "AbortError") byId("send").focus();
    else refuse(refused);
  }
});
byId("cancel").addEventListener("click", () => sending?.stop());
addEventListener("pageshow", (event) => event.persisted && busy(false));

function isReady() {
  for (const [line, field] of [["product-problem", products.input], ["inner-pages-problem", facts.inner_pages], ["caliper-problem", facts.caliper_mm]]) clear(line, field);
  clear("send-problem");
  if (key && !key.value.trim()) {
    tell("key-problem", say("Write your key here first."), key);
    return false;
  }
  if (!products.chosen && !usesOwn) {
    tell("product-problem", say("Choose a product from the list, or use your printer's own spec."), products.input);
    return false;
  }
  return file.isReady();
}

function filledForm() {
  const filled = new FormData();
  if (usesOwn) filled.append("spec_sheet", own.value);
  else filled.append("spec", products.chosen.id);
  const order = orderFacts();
  if (order) filled.append("order", JSON.stringify(order));
  if (key) filled.append("readable_by", "link"); // or this browser could not show the result
  filled.append("file", file.file);
  return filled;
}

/** What is no number goes as it was written: the service says what to write. */
function orderFacts() {
  if (usesOwn || !products.chosen.asksOrder) return null;
  const written = Object.entries(facts).map(([key, field]) => [key, field.value.trim().replace(",", ".")]).filter(([, text]) => text);
  return written.length ? Object.fromEntries(written.map(([key, text]) => [key, Number.isFinite(Number(text)) ? Number(text) : text])) : null;
}

function busy(yes) {
  if (!yes) sending = null;
  byId("sending").hidden = !yes;
  byId("send").disabled = yes;
  form.setAttribute("aria-busy", String(yes));
  byId("sending-said").textContent = yes ? say("Sending the file") : "";
  showProgress(0, file.file?.size ?? 1);
  if (yes) byId("cancel").focus();
}

function showProgress(sent, all) {
  const whole = sent >= all;
  byId("sent").value = sent / all;
  byId("sending-label").textContent = whole ? say("Sent. Opening the result") : say("Sending the file");
  byId("sent-bytes").textContent = say("{sent} of {all}, {percent} %", { sent: fileSize(sent), all: fileSize(all), percent: number((100 * sent) / all, 0) });
  if (whole && sending) byId("sending-said").textContent = say("Sent. Opening the result");
}

/** Each sentence at its place: the file, the sheet, the order; what is about none of them at the button. */
function refuse(refused) {
  const about = (start) => refused.errors.filter((one) => one.pointer === start || one.pointer.startsWith(`${start}/`)).map((one) => one.detail);
  if (key && [401, 403].includes(refused.status)) return tell("key-problem", refused.message, key);
  if (about("/file").length || [413, 415].includes(refused.status)) return file.refuse(refused.message);
  if (about("/spec_sheet").length) return own.refuse(about("/spec_sheet"));
  if (about("/spec").length) return tell("product-problem", about("/spec").join(" "), products.input);
  if (about("/order/caliper_mm").length) return tell("caliper-problem", about("/order/caliper_mm").join(" "), facts.caliper_mm);
  if (about("/order").length) return tell("inner-pages-problem", about("/order").join(" "), facts.inner_pages);
  return tell("send-problem", refused.message, byId("send"));
}
