// Where a constraint is put: clicks and drags over cells, and places beside the grid.

import { byId, svg } from "./dom.js";
import { marked, pathOf, standsBeside } from "./draft.js";
import { trail } from "./drawing.js";

const NEAR = 0.36; // of a cell from its middle: a drag that cuts a corner must not take the cell beside it
const FREE = 0.15; // of a cell, around the drawing

// Shows what the draft holds; null shows nothing.
export function showPlaces(draft, view, hooks) {
  const { now, others } = draft ? marked(draft) : { now: new Set(), others: new Set() };
  for (const shape of document.querySelectorAll("#sheet .cell[data-cell]")) {
    shape.classList.toggle("taken", now.has(shape.dataset.cell));
    shape.classList.toggle("held", others.has(shape.dataset.cell));
  }
  byId("trail")?.setAttribute("points", draft ? trail(pathOf(draft)) : "");
  byId("sheet").classList.toggle("tracing", draft !== null);
  showMargin(draft, view, hooks);
}

function showMargin(draft, { grid: { rows, columns }, drawing: { box } }, hooks) {
  const drawn = byId("drawing").querySelector("svg");
  byId("margin")?.remove();
  const wide = draft !== null && standsBeside(draft.kind);
  const [left, top, right, bottom] = wide
    ? [Math.min(box[0], -1), Math.min(box[1], -1), Math.max(box[2], columns + 1), Math.max(box[3], rows + 1)] : box;
  drawn.setAttribute("viewBox", `${left - FREE} ${top - FREE} ${right - left + 2 * FREE} ${bottom - top + 2 * FREE}`);
  if (!wide) return;
  const places = [];
  const put = (side, index, x, y) => {
    const here = draft.values.side === side && Number(draft.values.index) === index;
    places.push(svg("rect", { class: here ? "cell beside taken" : "cell beside", "data-beside": `${side} ${index}`, x, y, width: 1, height: 1,
      click: () => hooks.beside(side, index) }, svg("title", {}, `${side} ${index}`)));
  };
  for (let column = 1; column <= columns; column++) {
    put("top", column, column - 1, -1);
    put("bottom", column, column - 1, rows);
  }
  for (let row = 1; row <= rows; row++) {
    put("left", row, -1, row - 1);
    put("right", row, columns, row - 1);
  }
  drawn.append(svg("g", { id: "margin" }, ...places));
}

// Tells a press on a cell, and each further cell that a drag comes to, while `wanted()`.
export function watchStrokes(wanted, press, come) {
  let last = null;
  for (const area of [byId("drawing"), byId("scan")]) {
    area.addEventListener("pointerdown", (event) => {
      const shape = event.target.closest?.("[data-cell]");
      if (!wanted() || !shape || event.button !== 0) return;
      event.preventDefault(); // no text is selected, no picture dragged away
      shape.releasePointerCapture?.(event.pointerId);
      last = shape.dataset.cell;
      press(last);
    });
    area.addEventListener("pointermove", (event) => {
      if (last === null || !wanted()) return;
      const shape = document.elementFromPoint(event.clientX, event.clientY)?.closest("[data-cell]");
      if (!shape || shape.dataset.cell === last || !nearMiddle(shape, event)) return;
      last = shape.dataset.cell;
      come(last);
    });
  }
  for (const end of ["pointerup", "pointercancel"]) document.addEventListener(end, () => { last = null; });
}

function nearMiddle(shape, { clientX, clientY }) {
  const { left, top, width, height } = shape.getBoundingClientRect();
  return Math.abs(clientX - left - width / 2) < NEAR * width && Math.abs(clientY - top - height / 2) < NEAR * height;
}
