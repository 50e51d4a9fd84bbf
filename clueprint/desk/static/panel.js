// The right-hand panel: the queries one after another, and the item that is selected with what can be done to it.

import { byId, element } from "./dom.js";
import { focusedName, focusNamed, formOf } from "./form.js";

export function showQueries(view, current, hooks) {
  const inside = byId("queries").contains(document.activeElement);
  byId("queries").replaceChildren(...view.queries.map((query, number) => {
    const here = number === current;
    const button = element("button", { type: "button", "aria-current": here ? "true" : null, click: () => hooks.query(number) },
      query.why);
    return element("li", { "data-query": number }, button);
  }));
  if (view.queries.length === 0) {
    byId("queries").append(element("li", { class: "none" }, "Nothing is in query."));
  }
  const here = byId("queries").querySelector("[aria-current]");
  here?.scrollIntoView({ block: "nearest" });
  if (inside) (here ?? byId("queries").querySelector("button") ?? byId("heading")).focus();
}

export function showItem(view, chosen, kinds, hooks) {
  if (chosen.draft) {
    const control = focusedName();
    byId("item").replaceChildren(...formOf(chosen.draft, kinds, hooks));
    if (control !== null && !focusNamed(control)) byId("drawing").focus();
    return;
  }
  const parts = [];
  if (chosen.query !== null) {
    parts.push(element("p", { class: "accept" }, action("Accept as it stands", "a", () => hooks.accept())));
  }
  const item = view.items.find((candidate) => candidate.item === chosen.item);
  if (item) parts.push(...itemParts(view, item, hooks));
  else if (chosen.cell) parts.push(...cellParts(view, chosen.cell, hooks));
  const inside = byId("item").contains(document.activeElement);
  byId("item").replaceChildren(...parts);
  // What had the keyboard is gone: it stays with the item that is shown now, or goes to the head of the page.
  if (inside) (byId("item").querySelector("button") ?? byId("heading")).focus();
}

function itemParts(view, item, hooks) {
  const sure = item.confidence === null ? "stated by the rules" : `read with confidence ${item.confidence.toFixed(3)}`;
  const parts = [
    element("h3", {}, item.words),
    element("p", { class: "how" }, item.answered ? "answered by you" : sure),
  ];
  if (item.alternatives.length > 0) {
    parts.push(element("p", {}, "It may also be:"), element("ul", {}, ...item.alternatives.map((other, number) =>
      element("li", {}, action(`${other.words} (${other.confidence.toFixed(3)})`, number === 0 ? "c" : "",
        () => hooks.choose(item.item, number))))));
  }
  if (item.digit !== null) parts.push(digits(view, item.item.split("/").at(-1), item.digit, hooks));
  if (item.constraint) parts.push(element("p", {}, action("Change its cells or fields", "e", () => hooks.alter(item))));
  parts.push(element("p", {}, action("There is no such item", "Delete", () => hooks.remove(item.item))));
  return parts;
}

function cellParts(view, cell, hooks) {
  return [element("h3", {}, `${cell} is empty`), digits(view, cell, null, hooks)];
}

function digits(view, cell, now, hooks) {
  const buttons = Object.entries(view.grid.labels).map(([digit, label]) =>
    element("button", { type: "button", "aria-pressed": String(Number(digit) === now), click: () => hooks.put(cell, Number(digit)) }, label));
  return element("div", { class: "digits", role: "group", "aria-label": `Digit of ${cell}` }, ...buttons);
}

function action(words, key, click, type = "button") {
  return element("button", { type, click }, words, ...(key ? [" ", element("kbd", {}, key)] : []));
}

export function showProof(proof, view) {
  const place = byId("proof");
  place.dataset.outcome = proof.outcome;
  place.replaceChildren(element("strong", {}, HEADLINES[proof.outcome] ?? proof.outcome), ...details(proof, view));
}

const HEADLINES = {
  working: "… being proved",
  one: "✓ exactly one solution",
  several: "≠ several solutions",
  none: "✗ no solution",
  unknown: "? not settled",
};

function details(proof) {
  if (proof.outcome === "several") return [element("span", {}, ` not forced: ${listed(proof.differ)}`)];
  if (proof.outcome === "none") {
    return [element("span", {}, " these cannot all be right:"),
      element("ul", {}, ...proof.conflict.map((suspect) => element("li", {}, suspect.why)))];
  }
  return proof.note ? [element("span", {}, ` ${proof.note}`)] : [];
}

function listed(cells) {
  const few = cells.slice(0, 12);
  return few.join(" ") + (cells.length > few.length ? ` and ${cells.length - few.length} more` : "");
}

// Every constraint by its words: a rule without a mark stands nowhere to be clicked on.
export function showEverything(view, current, hooks) {
  const place = byId("everything");
  const inside = place.contains(document.activeElement);
  const rules = view.items.filter((item) => item.constraint);
  place.replaceChildren(...rules.map((item) => element("li", {}, element("button", { type: "button",
    "aria-current": item.item === current ? "true" : null, click: () => hooks.select(item.item) }, item.words))));
  byId("everythings").textContent = `Marks and rules (${rules.length})`;
  if (inside) (place.querySelector("[aria-current]") ?? place.querySelector("button") ?? byId("heading")).focus();
}

// The puzzles of one page, where there are several.
export function showPage(neighbours, name) {
  const links = neighbours.map((other, number) => element("a", { href: `#${encodeURIComponent(other.reading)}`,
    "aria-current": other.reading === name ? "page" : null, title: `${other.title || other.reading}: ${other.verdict}` }, String(number + 1)));
  byId("page").hidden = neighbours.length < 2;
  byId("page").replaceChildren("On this page ", ...links);
}
