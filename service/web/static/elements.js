// Makes elements: element("li", {class: "at"}, "text", child).

const SVG = "http://www.w3.org/2000/svg";

export function element(name, attributes = {}, ...children) {
  return withParts(document.createElement(name), attributes, children);
}

export function drawing(name, attributes = {}, ...children) {
  return withParts(document.createElementNS(SVG, name), attributes, children);
}

export const byId = (id) => document.getElementById(id);

function withParts(made, attributes, children) {
  for (const [name, value] of Object.entries(attributes)) {
    if (name.startsWith("on")) made.addEventListener(name.slice(2), value);
    else if (value === true) made.setAttribute(name, "");
    else if (value !== false && value !== null && value !== undefined) made.setAttribute(name, value);
  }
  made.append(...children.filter((child) => child !== null && child !== undefined));
  return made;
}

/** The mark of a finding: a diamond must be put right, a circle is a remark. */
export function marker(level, number) {
  const shape = level === "must" ? drawing("path", { d: "M0-12.2 12.2 0 0 12.2-12.2 0Z" }) : drawing("circle", { r: 10.6 });
  const text = drawing("text", { y: "0.36em" }, String(number));
  return drawing("svg", { class: `marker ${level}`, viewBox: "-13 -13 26 26", "aria-hidden": "true", focusable: "false" }, shape, text);
}
