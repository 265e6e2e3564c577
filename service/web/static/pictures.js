// Fetches pictures of pages: a few at a time, those that are looked at before thumbnails, each kept while there is room.

import { ask } from "./asking.js";

const AT_ONCE = 2;
const MOST_KEPT = 60;
const PATIENCE = 6;

const kept = new Map(); // address → address of the blob; the oldest first
const waiting = { soon: [], later: [] };
let running = 0;

/** The address of the picture's blob. Raises `Refused`, or an AbortError once `signal` says so. */
export function picture(address, { signal, later = false } = {}) {
  const known = kept.get(address);
  if (known) return Promise.resolve(known);
  return new Promise((resolve, reject) => {
    waiting[later ? "later" : "soon"].push({ address, signal, resolve, reject });
    next();
  });
}

async function next() {
  // One of the ways is kept free of thumbnails.
  const task = running < AT_ONCE ? waiting.soon.shift() ?? (running < AT_ONCE - 1 ? waiting.later.shift() : null) : null;
  if (!task) return;
  if (task.signal?.aborted) {
    task.reject(new DOMException("given up", "AbortError"));
    return next();
  }
  running += 1;
  try {
    const answer = await ask(task.address, { signal: task.signal, patience: PATIENCE });
    task.resolve(keep(task.address, URL.createObjectURL(await answer.blob())));
  } catch (error) {
    task.reject(error);
  }
  running -= 1;
  next();
}

function keep(address, blob) {
  kept.set(address, blob);
  if (kept.size > MOST_KEPT) {
    const [oldest, itsBlob] = kept.entries().next().value;
    kept.delete(oldest);
    setTimeout(() => URL.revokeObjectURL(itsBlob), 10_000); // it may be on the screen still
  }
  return blob;
}
