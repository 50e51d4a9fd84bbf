// The list of puzzles in the folder.

import { puzzles } from "./api.js";
import { byId, element } from "./dom.js";

const PART = 100;
const SIGNS = { clean: "✓ clean", query: "? query", faulty: "✗ faulty" };

let next = null; // where the part after those shown begins

export async function showList(more = false) {
  const form = byId("filter");
  const first = more ? next : 0;
  const query = { verdict: form.verdict.value, words: form.words.value, first, count: PART };
  const { folder, total, puzzles: found, next: rest } = await puzzles(query);
  next = rest;
  const rows = found.map((entry) => element("tr", {},
    element("th", { scope: "row" }, element("a", { href: `#${encodeURIComponent(entry.reading)}` }, entry.title || entry.reading)),
    element("td", {}, `${entry.source}, page ${entry.page}`),
    element("td", {}, SIGNS[entry.verdict] ?? entry.verdict),
    element("td", {}, String(entry.queries))));
  if (more) byId("puzzles").append(...rows);
  else byId("puzzles").replaceChildren(...rows);
  byId("count").textContent = counted(total, folder, query);
  byId("more").hidden = next === null;
}

function counted(total, folder, { verdict, words }) {
  const sort = { query: " to look at", clean: " that are clean", faulty: " that are faulty" }[verdict] ?? "";
  const found = `${total === 1 ? "1 puzzle" : `${total} puzzles`}${sort} in ${folder}`;
  if (total > 0 || words) return found;
  return `${found}; ${verdict ? "choose “all” to see every puzzle there" : "clueprint read and clueprint archive put them there"}`;
}
