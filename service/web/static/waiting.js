// The page of a check that waits or runs: asks how far it is, and opens the result when it is there.

import { ask, pause } from "./asking.js";
import { byId } from "./elements.js";
import { say } from "./texts.js";

const ASK_EVERY_MS = 600;
const SAY_EVERY_MS = 5000;
const MOST_FAILURES = 10;

const address = byId("waiting").dataset.check;
const bar = byId("measured");
let said = 0;

for (let failures = 0; failures < MOST_FAILURES; ) {
  try {
    const check = await (await ask(address)).json();
    failures = 0;
    byId("waiting-problem").textContent = "";
    if (check.state === "finished" || check.state === "failed") {
      location.reload();
      break;
    }
    show(check);
  } catch (refused) {
    failures = refused.status === 404 ? MOST_FAILURES : failures + 1;
    byId("waiting-problem").textContent = refused.message;
  }
  await pause(ASK_EVERY_MS);
}

function show({ state, progress }) {
  const text = stage(state, progress);
  byId("stage").textContent = text;
  if (progress?.pages) {
    bar.max = progress.pages;
    bar.value = progress.page;
  }
  if (Date.now() - said > SAY_EVERY_MS) {
    said = Date.now();
    byId("stage-said").textContent = text;
  }
}

function stage(state, progress) {
  if (state === "queued") return say("Waiting for its turn");
  if (!progress?.pages) return say("Measuring");
  return say("Measuring: page {page} of {pages}", { page: progress.page, pages: progress.pages });
}
