// Our own drawing of the puzzle as it was read, in cells, each shape with its item.

import { points, svg } from "./dom.js";

const FREE = 0.15; // of a cell, around the drawing

export function drawingOf(view, hooks) {
  const [left, top, right, bottom] = view.drawing.box;
  const words = new Map(view.items.map((item) => [item.item, item.words]));
  const asked = new Set(view.queries.map((query) => query.item));
  const groups = [];
  for (const shape of view.drawing.shapes) {
    const last = groups.at(-1);
    if (last && last.item === shape.item) last.shapes.push(shape);
    else groups.push({ item: shape.item, shapes: [shape] });
  }
  const drawn = groups.map(({ item, shapes }) => {
    const made = shapes.map(shapeOf);
    if (item === null) return svg("g", { "aria-hidden": "true" }, ...made);
    return svg("g", {
      class: asked.has(item) ? "drawn asked" : "drawn",
      "data-item": item,
      click: () => hooks.select(item),
      mouseenter: () => hooks.light(item),
      mouseleave: () => hooks.light(null),
    }, svg("title", {}, words.get(item) ?? item), ...made);
  });
  const { rows, columns } = view.grid;
  const cells = [];
  for (let row = 1; row <= rows; row++) {
    for (let column = 1; column <= columns; column++) {
      const cell = `r${row}c${column}`;
      cells.push(svg("rect", { class: "cell", "data-cell": cell, x: column - 1, y: row - 1, width: 1, height: 1,
        click: () => hooks.cell(cell) }));
    }
  }
  const box = `${left - FREE} ${top - FREE} ${right - left + 2 * FREE} ${bottom - top + 2 * FREE}`;
  const paper = svg("rect", { x: left - FREE, y: top - FREE, width: right - left + 2 * FREE, height: bottom - top + 2 * FREE, class: "paper" });
  return svg("svg", { viewBox: box, role: "img", "aria-label": "Drawing of the puzzle" },
    paper, ...cells, ...drawn, svg("polyline", { id: "trail", points: "" }));
}

function shapeOf(shape) {
  if (shape.shape === "text") {
    return svg("text", { x: shape.at[0], y: shape.at[1], "font-size": shape.size, fill: shape.colour,
      "font-weight": shape.weight || null, "text-anchor": shape.anchor }, shape.text);
  }
  const paint = {
    fill: shape.fill ?? "none", stroke: shape.stroke, "stroke-width": shape.stroke ? shape.width : null,
    "stroke-dasharray": shape.dash ? shape.dash.join(" ") : null,
    "stroke-linecap": shape.round ? "round" : "butt", "stroke-linejoin": shape.round ? "round" : "miter",
  };
  if (shape.shape === "circle") {
    return svg("circle", { cx: shape.centre[0], cy: shape.centre[1], r: shape.radius, ...paint });
  }
  return svg(shape.closed ? "polygon" : "polyline", { points: points(shape.points), ...paint });
}

// A frame around each item, which cannot be measured before it is shown: dashed where it is asked about, and heavier
// where it is chosen, so that no colour has to tell it.
export function frame(drawing) {
  for (const group of drawing.querySelectorAll(".drawn")) {
    const { x, y, width, height } = group.getBBox();
    group.append(svg("rect", { class: "frame", x: x - FREE / 2, y: y - FREE / 2, width: width + FREE, height: height + FREE, rx: FREE / 2 }));
  }
}

export function trail(cells) {
  return cells.map((cell) => {
    const [, row, column] = cell.match(/^r(\d+)c(\d+)$/);
    return `${column - 0.5},${row - 0.5}`;
  }).join(" ");
}

