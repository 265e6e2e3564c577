// The scale below the map of total ink. Its colours are those that the service draws the map with (a test compares them).

import { element } from "./elements.js";
import { number, say } from "./texts.js";

const STOPS = [
  [0, "#f3f3f3"],
  [50, "#e6d2e0"],
  [100, "#d4b4ca"],
  [150, "#c096b4"],
  [200, "#ac799e"],
  [250, "#975d88"],
  [300, "#824172"],
  [350, "#6d255e"],
  [400, "#580049"],
];

/** `limit`: of the sheet, in percent; null where it has none. */
export function showScale(place, shown, limit) {
  place.hidden = !shown;
  if (!shown || place.firstChild) return;
  const steps = STOPS.map(([percent, color]) => {
    const step = element("li", {}, percent % 100 ? "" : `${percent} %`);
    step.style.borderTopColor = color;
    return step;
  });
  place.append(element("p", {}, say("Total ink, all inks together:")), element("ol", {}, ...steps));
  if (limit !== null) place.append(element("p", { class: "hint" }, say("Striped: over the printer's limit of {percent} %.", { percent: number(limit) })));
}
