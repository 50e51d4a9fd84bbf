// Small helpers to make elements.

const SVG = "http://www.w3.org/2000/svg";

export function element(name, attributes = {}, ...children) {
  return filled(document.createElement(name), attributes, children);
}

export function svg(name, attributes = {}, ...children) {
  return filled(document.createElementNS(SVG, name), attributes, children);
}

function filled(made, attributes, children) {
  for (const [key, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) continue;
    if (typeof value === "function") made.addEventListener(key, value);
    else made.setAttribute(key, value === true ? "" : value);
  }
  made.append(...children);
  return made;
}

export const byId = (id) => document.getElementById(id);
export const points = (polygon) => polygon.map(([x, y]) => `${x},${y}`).join(" ");
