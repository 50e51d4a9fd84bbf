// The page as it was scanned, with an outline over every item that was read off it.

import { element, points, svg } from "./dom.js";
import { scanAddress } from "./api.js";

const CLEAR = 0.12; // of a cell, between a character and the outline around it: what is looked at must not be covered
const MARGIN = 0.12; // of the grid's size, around it: clues beside the grid and a little of the page

export function scanOf(name, view, neighbours, hooks) {
  const { width, height } = view.frame;
  const picture = svg("image", { href: scanAddress(name), width, height, preserveAspectRatio: "none" });
  const note = element("p", { class: "note", hidden: true }, "The scan cannot be shown.");
  picture.addEventListener("error", async () => {
    const response = await fetch(scanAddress(name));
    if (response.ok) return;
    note.textContent = (await response.json()).detail;
    note.hidden = false;
  });
  const asked = new Set(view.queries.map((query) => query.item));
  const cells = Object.entries(view.cells).map(([cell, where]) =>
    svg("polygon", { class: "cell", "data-cell": cell, points: points(where), click: () => hooks.cell(cell) }));
  const others = neighbours.filter((other) => other.reading !== name).map((other) =>
    svg("polygon", { class: "neighbour", points: points(other.corners), click: () => { location.hash = encodeURIComponent(other.reading); } },
      svg("title", {}, other.title || other.reading)));
  const outlines = view.items.filter((item) => item.where).map((item) =>
    svg("polygon", {
      class: asked.has(item.item) ? "outline asked" : "outline",
      "data-item": item.item,
      points: points(cleared(item.where, view)),
      click: () => hooks.select(item.item),
      mouseenter: () => hooks.light(item.item),
      mouseleave: () => hooks.light(null),
    }, svg("title", {}, item.words)));
  const places = view.queries.map((query, number) => ({ query, number })).filter(({ query }) => query.where)
    .map(({ query, number }) =>
      svg("polygon", { class: "place", "data-query": number, points: points(query.where), click: () => hooks.query(number) },
        svg("title", {}, query.why)));
  // Small ones on top, or a large one would keep the mouse from them.
  const marks = [...outlines, ...places].sort((one, other) => area(other) - area(one));
  const whole = `0 0 ${width} ${height}`;
  const near = around(view);
  const drawn = svg("svg", { viewBox: near, role: "img", "aria-label": `Scan of ${view.source.file}, page ${view.source.page}` },
    picture, ...others, ...cells, ...marks);
  const zoom = element("button", { type: "button", class: "zoom", "aria-pressed": "false" }, "Whole page");
  zoom.addEventListener("click", () => {
    const all = zoom.getAttribute("aria-pressed") === "false";
    zoom.setAttribute("aria-pressed", String(all));
    drawn.setAttribute("viewBox", all ? whole : near);
  });
  return [zoom, note, drawn];
}

// An outline that stands close around less than a cell, as that of a character does, a little farther out.
function cleared(polygon, { corners: [first, second], grid }) {
  const cell = Math.hypot(second[0] - first[0], second[1] - first[1]) / grid.columns;
  const middles = [0, 1].map((axis) => {
    const along = polygon.map((point) => point[axis]);
    const [least, most] = [Math.min(...along), Math.max(...along)];
    return most - least < cell ? (least + most) / 2 : null;
  });
  if (middles.includes(null)) return polygon;
  return polygon.map((point) => point.map((at, axis) => at + CLEAR * cell * Math.sign(at - middles[axis])));
}

function area(polygon) {
  const corners = polygon.getAttribute("points").split(" ").map((point) => point.split(",").map(Number));
  const [x, y] = [0, 1].map((axis) => corners.map((corner) => corner[axis]));
  return (Math.max(...x) - Math.min(...x)) * (Math.max(...y) - Math.min(...y));
}

function around(view) {
  const places = view.items.filter((item) => item.where && item.item.startsWith("/constraints/")).flatMap((item) => item.where);
  const all = [...view.corners, ...places];
  const [left, right] = [Math.min(...all.map((p) => p[0])), Math.max(...all.map((p) => p[0]))];
  const [top, bottom] = [Math.min(...all.map((p) => p[1])), Math.max(...all.map((p) => p[1]))];
  const free = MARGIN * Math.max(right - left, bottom - top);
  return `${left - free} ${top - free} ${right - left + 2 * free} ${bottom - top + 2 * free}`;
}
