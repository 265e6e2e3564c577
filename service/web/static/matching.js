// 'I do not know': sends the file to be compared with all sheets, and offers those that it fits.

import { ask } from "./asking.js";
import { byId, element } from "./elements.js";
import { tell } from "./field_problems.js";
import { say } from "./texts.js";

const MOST = 5;

/** `chosen` hears the id of a sheet. Gives what is to be told of every other file: it goes on where the file was all that was missing. */
export function offerMatches(fileChoice, chosen) {
  const button = byId("find-by-file");
  const place = byId("matches");
  let waits = false;
  async function find() {
    waits = !fileChoice.file;
    if (!fileChoice.isReady()) return;
    button.disabled = true;
    place.hidden = false;
    place.replaceChildren(element("p", { role: "status" }, say("Looking at the size and the pages of your file …")));
    try {
      show(place, await matches(fileChoice.file), chosen);
    } catch (refused) {
      place.replaceChildren();
      tell("file-problem", refused.message, fileChoice.input);
    } finally {
      button.disabled = false;
    }
  }
  button.addEventListener("click", find);
  return () => {
    place.hidden = true;
    if (waits && fileChoice.file) find();
  };
}

async function matches(file) {
  const form = new FormData();
  form.append("file", file);
  form.append("most", String(MOST));
  return (await ask("/v1/specs/matches", { method: "POST", body: form, patience: 2 })).json();
}

function show(place, answer, chosen) {
  const fitting = answer.matches.length > 0;
  const list = fitting ? answer.matches : answer.nearest;
  const heading = element("p", { tabindex: "-1" }, answer.failure?.why ?? headline(fitting, list.length));
  const items = list.map(({ spec, fits, against }) => {
    const title = document.querySelector(`option[value="${CSS.escape(spec.id)}"]`)?.text ?? spec.title;
    const reasons = [...fits, ...against].map((one) => one.says).join(" ");
    const use = () => {
      place.hidden = true;
      chosen(spec.id);
    };
    const button = element("button", { type: "button", class: "quiet", onclick: use, "aria-label": say("Take this: {title}", { title }) }, say("Take this"));
    return element("li", {}, element("div", {}, element("b", {}, title), element("p", { class: "hint" }, reasons)), button);
  });
  place.replaceChildren(heading, element("ul", {}, ...items));
  heading.focus();
}

function headline(fitting, count) {
  if (fitting) return say("By size and pages your file could be:");
  return count ? say("Your file fits no sheet here. It comes nearest to:") : say("Your file fits no sheet here.");
}
