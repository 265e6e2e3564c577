// Says a text in the language of the page. The page carries the translations; English needs none.

const table = JSON.parse(document.getElementById("texts")?.textContent ?? "{}");

export const language = document.documentElement.lang || "en";

export function say(text, values = {}) {
  const said = table[text];
  return filled(typeof said === "string" ? said : text, values);
}

/** `one` or `many`, as the language counts; `{count}` is filled as well. */
export function sayMany(one, many, count, values = {}) {
  const isMany = language === "fr" ? count > 1 : count !== 1;
  const forms = Array.isArray(table[one]) ? table[one] : [one, many];
  return filled(forms[isMany ? 1 : 0], { count, ...values });
}

export function number(value, digits = 1) {
  return new Intl.NumberFormat(language, { maximumFractionDigits: digits }).format(value);
}

/** 91999 → '92 kB' (powers of 1,000). */
export function fileSize(bytes) {
  if (bytes < 1000) return say("{size} B", { size: bytes });
  return bytes < 999_500 ? say("{size} kB", { size: number(bytes / 1e3, 0) }) : say("{size} MB", { size: number(bytes / 1e6) });
}

function filled(text, values) {
  return text.replace(/\{(\w+)\}/g, (whole, name) => (name in values ? String(values[name]) : whole));
}
