// 'Delete this check and its file now', asked twice.

import { keptKey } from "./api_key.js";
import { ask, inLanguage } from "./asking.js";
import { byId } from "./elements.js";

export function offerForgetting(check) {
  const button = byId("forget");
  const dialog = byId("forget-dialog");
  button.hidden = "asksKey" in button.dataset && !keptKey(); // who only has the address may read it, no more
  button.addEventListener("click", () => dialog.showModal());
  byId("forget-now").addEventListener("click", async () => {
    byId("forget-problem").textContent = "";
    try {
      await ask(check, { method: "DELETE" });
      location.assign(inLanguage("/"));
    } catch (refused) {
      if (refused.status === 404) return location.assign(inLanguage("/")); // deleted in another tab, or over
      byId("forget-problem").textContent = refused.message;
    }
  });
}
