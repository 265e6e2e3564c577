// Finds products by words ('booklet a5') or by size ('85 x 55', '3.5 x 2 in', '8,5 x 5,5 cm').

const SIZE = /(\d+(?:[.,]\d+)?)\s*(mm|cm|in|inch|inches|"|″|zoll|pouces?|po)?\s*(?:x|×|\*|by|mal|sur)\s*(\d+(?:[.,]\d+)?)\s*(mm|cm|in|inch|inches|"|″|zoll|pouces?|po)?(?=\s|$)/i;
const SLACK_MM = 1;
const BLEEDS_MM = [1, 2, 3, 3.175, 4, 5, 6.35]; // what may lie around a product on each side, as the service has it for a search
const SLACK_WITH_BLEED_MM = 0.5;

/**
 * `choices`: {words, size: [w, h, w, h …] in mm, every size that is taken, or null}; gives those that fit, in their order. A size
 * that is none of theirs may be that of one with its bleed around it: '216 x 303' is A4 with 3 mm.
 */
export function found(choices, text) {
  const asked = text.trim().toLowerCase();
  if (!asked) return choices;
  const size = asked.match(SIZE);
  const sizes = size ? millimetres(size) : [];
  const words = (size ? asked.replace(size[0], " ") : asked).split(/[\s,;·×]+/).filter(Boolean);
  const named = choices.filter((one) => words.every((word) => hasWord(one.words, word)));
  if (!size) return named;
  const exact = named.filter((one) => sizes.some((pair) => fits(one.size, pair, SLACK_MM)));
  if (exact.length || choices.some((one) => sizes.some((pair) => fits(one.size, pair, SLACK_MM)))) return exact;
  const trimmed = sizes.flatMap((pair) => BLEEDS_MM.map((bleed) => pair.map((side) => side - 2 * bleed)));
  return named.filter((one) => trimmed.some((pair) => fits(one.size, pair, SLACK_WITH_BLEED_MM)));
}

/** A format such as 'a5' is a word of its own: it is not part of another; other words may be begun. */
function hasWord(words, word) {
  if (/^[abc]\d{1,2}$|^dl$/.test(word)) return new RegExp(`(^|[^a-z0-9])${word}($|[^a-z0-9])`).test(words);
  return words.includes(word);
}

/** Every size that the text may mean: without a unit it is tried as millimetres, centimetres and inches. */
function millimetres([, width, first, height, last]) {
  const unit = last || first;
  const pair = [width, height].map((one) => Number(one.replace(",", ".")));
  const factors = !unit ? [1, 10, 25.4] : /^mm/i.test(unit) ? [1] : /^cm/i.test(unit) ? [10] : [25.4];
  return factors.map((factor) => pair.map((one) => one * factor));
}

function fits(sizes, pair, slack) {
  const near = (a, b) => Math.abs(a - b) <= slack;
  for (let at = 0; at < (sizes || []).length; at += 2) {
    const [width, height] = sizes.slice(at, at + 2);
    if ((near(width, pair[0]) && near(height, pair[1])) || (near(width, pair[1]) && near(height, pair[0]))) return true;
  }
  return false;
}
