// Asks the service; what it refuses comes back as a sentence for a person.

import { keyHeaders } from "./api_key.js";
import { language, say } from "./texts.js";

export class Refused extends Error {
  /** `errors`: where the input is at fault, as {pointer, detail}. */
  constructor(sentence, { status = 0, errors = [], wait = 0 } = {}) {
    super(sentence);
    Object.assign(this, { status, errors, wait });
  }
}

/** The answer to a request. Raises `Refused`; an AbortError where the caller has given up. */
export async function ask(address, { patience = 0, headers = {}, ...options } = {}) {
  let answer;
  try {
    answer = await fetch(address, { ...options, headers: { "Accept-Language": language, ...keyHeaders(options.method), ...headers } });
  } catch (error) {
    if (error.name === "AbortError") throw error;
    throw unreachable();
  }
  if (answer.ok) return answer;
  const refused = refusal(answer.status, await answer.text(), answer.headers.get("Retry-After"));
  if (answer.status === 429 && patience > 0) {
    await pause((refused.wait || 2) * 1000, options.signal);
    return ask(address, { patience: patience - 1, headers, ...options });
  }
  throw refused;
}

/** What an answer with an error says (RFC 9457), or a sentence of ours where something in between answered. */
export function refusal(status, text, retryAfter) {
  const wait = Number(retryAfter) || 0;
  try {
    const problem = JSON.parse(text);
    if (problem.detail) return new Refused(problem.detail, { status, errors: problem.errors ?? [], wait });
  } catch {
    // no JSON: not from the service itself
  }
  if (status === 413) return new Refused(say("The file is larger than this service takes."), { status, wait });
  return new Refused(say("The service answered with an error ({status}). Try again in a moment.", { status }), { status, wait });
}

export function unreachable() {
  return new Refused(say("The service cannot be reached. Look at your connection and try again; nothing you filled in is lost."));
}

export function pause(milliseconds, signal) {
  return new Promise((resolve, reject) => {
    const timer = setTimeout(resolve, milliseconds);
    signal?.addEventListener("abort", () => {
      clearTimeout(timer);
      reject(new DOMException("given up", "AbortError"));
    });
  });
}

/** An address of a page in the language that was chosen by hand, as the page's own address says it. */
export function inLanguage(address) {
  const chosen = new URLSearchParams(location.search).get("lang");
  return chosen ? `${address}${address.includes("?") ? "&" : "?"}lang=${encodeURIComponent(chosen)}` : address;
}
