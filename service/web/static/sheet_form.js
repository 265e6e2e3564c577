// A sheet while it is written: all of it is sent as somebody types, and what follows from it is put in. The server alone judges.

import { ask, inLanguage } from "./asking.js";
import { byId, element } from "./elements.js";
import { send } from "./sending.js";
import { say } from "./texts.js";

const QUIET_MS = 350;
const form = () => byId("sheet-form");
const kinds = "input, select, textarea";
let timer = 0;
let asked = null;
let changed = false;
let typing = null; // the field that is being typed in: what is refused of it is told when it is left

document.documentElement.classList.add("scripted");
document.addEventListener("input", (event) => ofSheet(event.target) && later(event.target));
document.addEventListener("change", (event) => ofSheet(event.target) && later(null));
document.addEventListener("submit", submitted);
document.addEventListener("click", (event) => event.target.closest('a[href^="#"]') && opened(byId(decodeURIComponent(event.target.closest("a").hash.slice(1)))));
addEventListener("beforeunload", (event) => changed && event.preventDefault());
byId("try-form").addEventListener("submit", tried);
if (document.querySelector('.questions [aria-invalid="true"]')) {
  showRefusals(document);
  document.querySelector('.questions [aria-invalid="true"]').focus();
}

if ([...form().elements].some((field) => ofSheet(field) && isOtherwise(field))) later(document.activeElement);

/** What somebody wrote before this script was there, or what the browser put back. */
function isOtherwise(field) {
  return field.matches("select, button") ? false : field.value !== field.defaultValue || field.checked !== field.defaultChecked;
}

/** The YAML is read when it is taken over, not with each letter. */
function ofSheet(field) {
  return field.form === form() && field.id !== "yaml";
}

function later(field) {
  changed = true;
  typing = field?.matches('input[type="text"], textarea') ? field : null;
  clearTimeout(timer);
  timer = setTimeout(look, typing ? QUIET_MS : 0);
}

async function look() {
  asked?.abort();
  asked = new AbortController();
  byId("part-drawing").classList.add("stale");
  try {
    const answer = await posted(new URLSearchParams(new FormData(form())), "parts", asked.signal);
    const fresh = parsed(answer);
    showRefusals(fresh);
    for (const part of fresh.querySelectorAll(".part")) put(part);
  } catch (refused) {
    if (refused.name !== "AbortError") byId("part-state").replaceChildren(element("p", { class: "problem" }, refused.message));
  }
}

async function posted(filled, show, signal) {
  const address = new URL(form().action);
  address.searchParams.set("show", show);
  return (await ask(address, { method: "POST", body: filled, signal })).text();
}

const parsed = (text) => new DOMParser().parseFromString(text, "text/html");

/** What is open stays open, and what somebody is writing in stays as it is. */
function put(part) {
  const here = byId(part.id);
  if (!here || here.contains(document.activeElement) && document.activeElement.matches("textarea")) return;
  const focused = here.contains(document.activeElement);
  const details = here.querySelector("details");
  if (details?.open) part.querySelector("details")?.setAttribute("open", "");
  here.className = part.className;
  here.replaceChildren(...part.childNodes);
  if (focused) here.querySelector("summary")?.focus();
}

function showRefusals(fresh) {
  const said = new Map([...fresh.querySelectorAll("#part-problems p")].map((one) => [one.dataset.at, one.textContent]));
  for (const line of form().querySelectorAll(".problem")) {
    const name = line.id.slice("problem:".length);
    const field = byId(name);
    const now = field && field === typing ? "" : said.get(name) ?? "";
    if (line.textContent !== now) line.textContent = now;
    if (!field) continue;
    if (now && field.matches(kinds)) field.setAttribute("aria-invalid", "true");
    else field.removeAttribute("aria-invalid");
    if (now) opened(line);
  }
}

/** Every fold around it is opened. */
function opened(one) {
  if (one?.matches("details")) one.open = true;
  for (let around = one?.closest("details"); around; around = around.parentElement.closest("details")) around.open = true;
}

// --- Buttons ----------------------------------------------------------------------------------------------------------

async function submitted(event) {
  if (event.target !== form()) return;
  const action = event.submitter?.value ?? "look";
  if (action === "keep") {
    changed = false;
    return;
  }
  event.preventDefault();
  changed = true;
  if (action === "look") return look();
  asked?.abort();
  try {
    return again(parsed(await posted(new URLSearchParams(new FormData(form(), event.submitter)), "whole", null)), action);
  } catch (refused) {
    return byId("part-state").replaceChildren(element("p", { class: "problem" }, refused.message));
  }
}

/** The questions as they are now, those open that were. */
function again(fresh, action) {
  const open = new Set([...form().querySelectorAll("details[open]")].map((one) => one.id).filter(Boolean));
  const questions = fresh.getElementById("sheet-form");
  for (const one of questions.querySelectorAll("details[id]")) if (open.has(one.id)) one.open = true;
  document.activeElement?.blur();
  form().replaceWith(questions);
  stillOpen(document.querySelector("section.read"), fresh.querySelector("section.read"));
  for (const part of fresh.querySelectorAll(".part")) put(part);
  showRefusals(document);
  focusAfter(action);
}

/** What was read, as it is now; what was folded open stays so. */
function stillOpen(here, fresh) {
  if (!here || !fresh) return;
  const fold = fresh.querySelector("details");
  if (fold && here.querySelector("details")) fold.open = here.querySelector("details").open;
  here.replaceWith(fresh);
}

/** What was added or taken over, the list that something was taken out of, or the YAML that could not be taken over. */
function focusAfter(action) {
  const [kind, name] = action.split(/:(.*)/s);
  if (kind === "yaml") return (byId("yaml").hasAttribute("aria-invalid") ? byId("yaml") : byId("part-state")).focus();
  if (kind === "take") {
    const taken = name.startsWith("{") ? Object.keys(JSON.parse(name))[0] : name.slice(0, name.indexOf("="));
    const field = byId(taken) ?? byId("part-state");
    opened(field);
    return field.focus();
  }
  const list = byId(kind === "add" ? name : name.slice(0, name.lastIndexOf("/")));
  const added = kind === "add" ? [...list.querySelectorAll(":scope > .entry")].at(-1) : null;
  opened(list);
  return (added?.querySelector('input:not([type="hidden"])') ?? list.querySelector("summary, button")).focus();
}

async function tried(event) {
  event.preventDefault();
  const file = byId("file").files[0];
  if (!file) return;
  const filled = new FormData();
  filled.append("spec_sheet", document.querySelector('[name="spec_sheet"]').value);
  filled.append("file", file);
  byId("try-problem").textContent = "";
  byId("try-result").textContent = say("Sending the file");
  try {
    const check = await send(filled, () => {}).done;
    const result = element("a", { href: inLanguage(`/checks/${check.id}`), target: "_blank", class: "button" }, say("Read the result"));
    byId("try-result").replaceChildren(result);
    result.focus();
  } catch (refused) {
    byId("try-result").textContent = "";
    byId("try-problem").textContent = refused.message;
  }
}
