// Says at a field what is wrong with it. The lines are alerts: a screen reader reads them as they appear.

import { byId } from "./elements.js";

/** `line`: id of the line that says it; `field`: what it is about, and gets the focus. */
export function tell(line, sentence, field = null) {
  byId(line).textContent = sentence;
  if (!field) return;
  if (field.matches("input, textarea")) field.setAttribute("aria-invalid", "true");
  const forget = () => clear(line, field);
  field.addEventListener("input", forget, { once: true });
  field.addEventListener("change", forget, { once: true });
  field.focus();
  byId(line).scrollIntoView({ block: "nearest" }); // it stands below the field, and on a phone below the edge
}

export function clear(line, field = null) {
  byId(line).textContent = "";
  field?.removeAttribute("aria-invalid");
}
