// Sends the form with progress by bytes. The answer comes at once with the check's address; measuring goes on there.

import { keyHeaders } from "./api_key.js";
import { refusal, unreachable } from "./asking.js";
import { language } from "./texts.js";

/** {done: a promise of the check, stop: to give up}. `progress` hears bytes sent and bytes in all. */
export function send(form, progress) {
  const request = new XMLHttpRequest();
  const done = new Promise((resolve, reject) => {
    request.upload.addEventListener("progress", (event) => event.lengthComputable && progress(event.loaded, event.total));
    request.addEventListener("load", () => {
      if (request.status < 300) resolve(JSON.parse(request.responseText));
      else reject(refusal(request.status, request.responseText, request.getResponseHeader("Retry-After")));
    });
    request.addEventListener("error", () => reject(unreachable()));
    request.addEventListener("abort", () => reject(new DOMException("given up", "AbortError")));
    request.open("POST", "/v1/checks");
    request.setRequestHeader("Prefer", "respond-async");
    request.setRequestHeader("Accept", "application/json");
    request.setRequestHeader("Accept-Language", language);
    for (const [name, value] of Object.entries(keyHeaders("POST"))) request.setRequestHeader(name, value);
    request.send(form);
  });
  return { done, stop: () => request.abort() };
}
