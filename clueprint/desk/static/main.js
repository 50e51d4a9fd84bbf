// The desk: which puzzle is open, what is selected in it, and what the keys do.

import * as api from "./api.js";
import { byId } from "./dom.js";
import { drawingOf, frame, trail } from "./drawing.js";
import { showList } from "./list.js";
import { showItem, showProof, showQueries } from "./panel.js";
import { scanOf } from "./scan.js";

const nothing = () => ({ item: null, cell: null, query: null, trace: null });
let name = null;
let view = null;
let chosen = nothing();

// ---------------------------------------------------------------------------------------------- showing

async function route() {
  const wanted = decodeURIComponent(location.hash.slice(1));
  say("");
  try {
    if (wanted) await open(wanted);
    else await close();
  } catch (fault) {
    say(fault.message);
  }
}

async function close() {
  name = view = null;
  byId("sheet").hidden = byId("tools").hidden = true;
  headed("Desk");
  byId("state").textContent = "";
  await showList();
  byId("shelf").hidden = false;
}

async function open(wanted) {
  const found = await api.sheet(wanted);
  name = wanted;
  chosen = nothing();
  byId("shelf").hidden = true;
  byId("sheet").hidden = byId("tools").hidden = false;
  show(found);
  if (view.queries.length > 0) goTo(0);
  // The link that was followed is hidden now: a reader of the screen begins with the puzzle's name.
  byId("heading").focus();
}

function headed(words) {
  byId("heading").textContent = words;
  document.title = words === "Desk" ? words : `${words} – Desk`;
}

function show(found) {
  const scanned = view && byId("scan").dataset.name === name;
  const proved = scanned && view.version === found.version;
  view = found;
  headed(view.title || name);
  byId("scan").dataset.name = name;
  byId("scan").replaceChildren(...scanOf(name, view, hooks));
  byId("drawing").replaceChildren(drawingOf(view, hooks));
  frame(byId("drawing"));
  if (chosen.query !== null && chosen.query >= view.queries.length) chosen.query = null;
  refresh();
  if (!proved) watch();
}

function refresh() {
  showQueries(view, chosen.query, hooks);
  showItem(view, chosen, hooks);
  byId("state").textContent = `${view.verdict}${view.unsaved ? " · not saved" : ""}`;
  byId("save").disabled = !view.unsaved;
  byId("undo").disabled = !view.canUndo;
  for (const shape of document.querySelectorAll("#sheet [data-item], #sheet [data-cell], #sheet svg [data-query]")) {
    const { item, cell, query } = shape.dataset;
    const on = (item && item === chosen.item) || (cell && cell === chosen.cell) || (query && Number(query) === chosen.query);
    shape.classList.toggle("chosen", Boolean(on));
  }
  byId("trail")?.setAttribute("points", chosen.trace ? trail(chosen.trace) : "");
  byId("sheet").classList.toggle("tracing", chosen.trace !== null);
}

async function watch() {
  const { version } = view;
  const of = name;
  showProof({ outcome: "working" }, view);
  try {
    let proof;
    do {
      proof = await api.proof(of, version);
      if (name !== of || view.version !== version) return;
    } while (proof.outcome === "working");
    view.verdict = proof.verdict;
    showProof(proof, view);
    refresh();
  } catch (fault) {
    if (fault.status !== 409) say(fault.message);
  }
}

function say(words) {
  byId("message").textContent = words;
  byId("message").hidden = !words;
}

function light(item) {
  for (const shape of document.querySelectorAll("#sheet [data-item]")) {
    shape.classList.toggle("lit", item !== null && shape.dataset.item === item);
  }
}

// ---------------------------------------------------------------------------------------------- choosing

function goTo(number) {
  const query = view.queries[number];
  if (!query) return;
  chosen = { ...nothing(), query: number, item: query.item ?? null };
  const given = /^\/givens\/(r\d+c\d+)$/.exec(query.item ?? "");
  if (given) chosen.cell = given[1];
  refresh();
}

function step(by) {
  const { length } = view.queries;
  if (length === 0) return;
  const from = chosen.query ?? (by > 0 ? -1 : length);
  goTo((from + by + length) % length);
}

function select(item) {
  const query = view.queries.findIndex((candidate) => candidate.item === item);
  const given = /^\/givens\/(.*)$/.exec(item);
  chosen = { ...nothing(), item, cell: given ? given[1] : null, query: query < 0 ? null : query };
  refresh();
}

function cell(place) {
  if (chosen.trace) {
    chosen.trace = [...chosen.trace, place];
    refresh();
    return;
  }
  const pointer = `/givens/${place}`;
  if (view.items.some((item) => item.item === pointer)) select(pointer);
  else {
    chosen = { ...nothing(), cell: place };
    refresh();
  }
}

function move(rows, columns) {
  const [, row, column] = (chosen.cell ?? "r1c1").match(/^r(\d+)c(\d+)$/).map(Number);
  const to = (value, by, most) => Math.min(Math.max(value + by, 1), most);
  const by = chosen.cell ? [rows, columns] : [0, 0];
  const place = `r${to(row, by[0], view.grid.rows)}c${to(column, by[1], view.grid.columns)}`;
  if (!chosen.trace) return cell(place);
  chosen.cell = place;
  return refresh();
}

// ---------------------------------------------------------------------------------------------- changing

async function ask(change) {
  say("");
  try {
    show(await change());
    return true;
  } catch (fault) {
    say(fault.message);
    if (fault.status === 409) byId("message").append(" ", reloading());
    return false;
  }
}

function reloading() {
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = "Load the files again (what is not saved is lost)";
  button.addEventListener("click", () => ask(() => api.reload(name)));
  return button;
}

async function edit(wish) {
  const { query } = chosen;
  const before = view.queries.length;
  if (!(await ask(() => api.edit(name, view.version, wish)))) return;
  if (query !== null && view.queries.length < before && view.queries.length > 0) goTo(Math.min(query, view.queries.length - 1));
}

const hooks = {
  select,
  light,
  cell,
  query: goTo,
  accept: () => chosen.query !== null && edit({ do: "accept", query: chosen.query }),
  choose: (item, alternative) => edit({ do: "choose", item, alternative }),
  put: (place, digit) => edit({ do: "given", cell: place, digit }),
  change: (item, constraint) => edit({ do: "change", item, constraint }),
  remove: (item) => edit({ do: "delete", item }),
  trace: (item) => {
    chosen = { ...nothing(), item, trace: [] };
    say("Click the cells of the path in order, in the drawing, or go there by arrows and press the space bar; Enter finishes, Escape leaves it as it is.");
    refresh();
  },
};

function finishTrace() {
  const item = view.items.find((candidate) => candidate.item === chosen.item);
  const path = chosen.trace;
  chosen.trace = null;
  say("");
  if (path.length > 0) edit({ do: "change", item: item.item, constraint: { ...item.constraint, path } });
  else refresh();
}

const undo = () => ask(() => api.undo(name, view.version));

function save() {
  byId("state").textContent = "saving, once it is proved …";
  return ask(() => api.save(name, view.version)).then((saved) => saved || refresh());
}

// ---------------------------------------------------------------------------------------------- keys

const KEYS = {
  n: () => step(1),
  p: () => step(-1),
  a: () => hooks.accept(),
  c: () => chosenItem()?.alternatives.length && hooks.choose(chosen.item, 0),
  e: () => chosenItem()?.constraint?.path && hooks.trace(chosen.item),
  u: undo,
  s: save,
  Delete: () => chosen.item && hooks.remove(chosen.item),
  v: () => byId("item").querySelector("[name=value]")?.focus(),
  " ": () => chosen.trace && chosen.cell && cell(chosen.cell),
  Backspace: () => chosen.item && hooks.remove(chosen.item),
  ArrowUp: () => move(-1, 0),
  ArrowDown: () => move(1, 0),
  ArrowLeft: () => move(0, -1),
  ArrowRight: () => move(0, 1),
};

const chosenItem = () => view.items.find((item) => item.item === chosen.item);

function digitNamed(key) {
  return Object.entries(view.grid.labels).find(([, label]) => label.toLowerCase() === key.toLowerCase())?.[0];
}

document.addEventListener("keydown", (event) => {
  if (!view || event.ctrlKey || event.altKey || event.metaKey) return;
  if (event.target.closest("input, select, textarea")) return;
  if (event.key === " " && !chosen.trace) return;
  if (chosen.trace && (event.key === "Enter" || event.key === "Escape")) {
    event.preventDefault();
    if (event.key === "Escape") chosen.trace = [];
    finishTrace();
    return;
  }
  const { key } = event;
  if (!KEYS[key] && !digitNamed(key)) return;
  event.preventDefault();
  // One after another: a key that is pressed before the last one was answered is meant for what comes then.
  turn = turn.then(() => act(key)).catch((fault) => say(fault.message));
});

let turn = Promise.resolve();

function act(key) {
  if (!view) return undefined;
  const digit = chosen.cell && !chosen.trace && digitNamed(key);
  return digit ? hooks.put(chosen.cell, Number(digit)) : KEYS[key]?.();
}

byId("undo").addEventListener("click", undo);
byId("save").addEventListener("click", save);
byId("back").addEventListener("click", () => { location.hash = ""; });
byId("more").addEventListener("click", () => showList(true));
byId("filter").addEventListener("input", () => showList().catch((fault) => say(fault.message)));
byId("filter").addEventListener("submit", (event) => event.preventDefault());
window.addEventListener("hashchange", route);
window.addEventListener("beforeunload", (event) => { if (view?.unsaved) event.preventDefault(); });
route();
