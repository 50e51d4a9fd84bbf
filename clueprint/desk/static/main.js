// The desk: which puzzle is open, what is selected in it, and what the keys do.

import * as api from "./api.js";
import { byId } from "./dom.js";
import * as drafts from "./draft.js";
import { drawingOf, frame } from "./drawing.js";
import { showList } from "./list.js";
import { showEverything, showItem, showPage, showProof, showQueries } from "./panel.js";
import { showPlaces, watchStrokes } from "./placing.js";
import { scanOf } from "./scan.js";

const nothing = () => ({ item: null, cell: null, query: null, draft: null });
let kinds = null; // each constraint kind with its fields, as the program describes them
let lastKind = null; // what was added last: several of a kind are often overlooked together
let name = null;
let view = null;
let neighbours = []; // the puzzles of the page that is shown
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
  kinds ??= await api.kinds();
  const [found, beside] = [await api.sheet(wanted), await api.ofPage(wanted)];
  name = wanted;
  neighbours = beside;
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
  byId("scan").replaceChildren(...scanOf(name, view, neighbours, hooks));
  byId("drawing").replaceChildren(drawingOf(view, hooks));
  frame(byId("drawing"));
  if (chosen.query !== null && chosen.query >= view.queries.length) chosen.query = null;
  refresh();
  if (!proved) watch();
}

function refresh() {
  showQueries(view, chosen.query, hooks);
  showItem(view, chosen, kinds, hooks);
  showEverything(view, chosen.item, hooks);
  showPage(neighbours, name);
  showVerdict();
  byId("save").disabled = !view.unsaved;
  byId("undo").disabled = !view.canUndo && !chosen.draft;
  for (const shape of document.querySelectorAll("#sheet [data-item], #sheet [data-cell], #sheet svg [data-query]")) {
    const { item, cell, query } = shape.dataset;
    const on = (item && item === chosen.item) || (cell && cell === chosen.cell) || (query && Number(query) === chosen.query);
    shape.classList.toggle("chosen", Boolean(on));
  }
  showPlaces(chosen.draft, view, hooks);
}

function showVerdict() {
  byId("state").textContent = `${view.verdict}${view.unsaved ? " · not saved" : ""}`;
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
    showVerdict(); // nothing else is shown anew: somebody may be typing
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
  if (chosen.draft) return; // what a press and a drag mean then is told by watchStrokes
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
  if (!chosen.draft) return cell(place);
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
  button.addEventListener("click", () => {
    chosen = nothing();
    ask(() => api.reload(name));
  });
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
  remove: (item) => edit({ do: "delete", item }),
  add: () => begin(kinds.find(({ kind }) => kind === (lastKind ?? kinds.find(({ drawn }) => drawn).kind)), { query: openPlace() }, "kind"),
  alter: (item, control) => begin(kindOf(item), { item: item.item, constraint: item.constraint }, control),
  kind: (wanted) => redraft(drafts.ofKind(chosen.draft, kinds.find(({ kind }) => kind === wanted))),
  fill: (field, value) => { chosen.draft.values[field] = value; },
  aim: (active, group) => redraft({ ...chosen.draft, active, group, stroke: null }, true),
  beside: (side, index) => redraft({ ...chosen.draft, values: { ...chosen.draft.values, side, index } }, "value"),
  finish,
  leave: () => {
    const { item, query } = chosen.draft;
    chosen = { ...nothing(), item, query };
    say("");
    refresh();
  },
};

// ---------------------------------------------------------------------------------------------- putting together

const kindOf = (item) => kinds.find(({ kind }) => kind === item.constraint.kind);

// The place in query that a mark is perhaps added for: it stays in query until the person says that it is answered.
const openPlace = () => (chosen.query !== null && !view.queries[chosen.query].item ? chosen.query : null);

function begin(kind, from, control) {
  chosen = { ...nothing(), item: from.item ?? null, query: from.query ?? null, draft: drafts.begun(kind, from) };
  say("");
  refresh();
  focusDraft(control);
}

function redraft(draft, control) {
  chosen.draft = draft;
  refresh();
  if (control) focusDraft(control);
}

// The keyboard goes to a control of the form; where there is none of that name, to the cells.
function focusDraft(control) {
  const found = typeof control === "string" && byId("item").querySelector(`[name="${control}"]`);
  (found || byId("drawing")).focus();
  if (found) found.select?.(); // what is typed takes the place of the number that stands there
}

async function finish() {
  const { draft } = chosen;
  const constraint = drafts.written(draft);
  const wish = draft.item ? { do: "change", item: draft.item, constraint } : { do: "add", constraint };
  // What is refused stays as it was typed and drawn, with the words that say why.
  if (!(await ask(() => api.edit(name, view.version, wish)))) return;
  lastKind = draft.item ? lastKind : constraint.kind;
  if (draft.query !== null) goTo(draft.query);
  else select(draft.item ?? view.items.findLast((item) => item.constraint).item);
}

// What is being put together is taken back first: after an undo its item may be another one.
const undo = () => (chosen.draft ? hooks.leave() : ask(() => api.undo(name, view.version)));

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
  m: () => hooks.add(),
  e: () => chosenItem()?.constraint && hooks.alter(chosenItem()),
  v: () => chosenItem()?.constraint && hooks.alter(chosenItem(), kindOf(chosenItem()).fields.find(({ form }) => form === "number")?.name),
  u: undo,
  s: save,
  Delete: () => chosen.item && hooks.remove(chosen.item),
  Backspace: () => chosen.item && hooks.remove(chosen.item),
  ArrowUp: () => move(-1, 0),
  ArrowDown: () => move(1, 0),
  ArrowLeft: () => move(0, -1),
  ArrowRight: () => move(0, 1),
};

// While a constraint is put together.
const DRAFT_KEYS = {
  " ": () => chosen.cell && redraft(drafts.touch(chosen.draft, chosen.cell)),
  Backspace: () => redraft(drafts.shortened(chosen.draft)),
  f: () => redraft(drafts.onward(chosen.draft)),
  Enter: finish,
  Escape: () => hooks.leave(),
  ArrowUp: KEYS.ArrowUp,
  ArrowDown: KEYS.ArrowDown,
  ArrowLeft: KEYS.ArrowLeft,
  ArrowRight: KEYS.ArrowRight,
};

const chosenItem = () => view.items.find((item) => item.item === chosen.item);

function digitNamed(key) {
  return Object.entries(view.grid.labels).find(([, label]) => label.toLowerCase() === key.toLowerCase())?.[0];
}

document.addEventListener("keydown", (event) => {
  if (!view || event.ctrlKey || event.altKey || event.metaKey) return;
  const { key, target } = event;
  if (chosen.draft && key === "Escape") event.target.blur();
  else if (chosen.draft && target.closest("#item select") && key === "Enter") {
    event.preventDefault();
    byId("drawing").focus();
    return;
  } else if (target.closest("input, select, textarea")) return;
  // A button that has the keyboard is pressed by these, as everywhere.
  else if (chosen.draft && target.closest("button") && [" ", "Enter"].includes(key)) return;
  if (!keysNow()[key] && (chosen.draft || !digitNamed(key))) return;
  event.preventDefault();
  // One after another: a key that is pressed before the last one was answered is meant for what comes then.
  turn = turn.then(() => act(key)).catch((fault) => say(fault.message));
});

const keysNow = () => (chosen.draft ? DRAFT_KEYS : KEYS);
let turn = Promise.resolve();

function act(key) {
  if (!view) return undefined;
  const digit = chosen.cell && !chosen.draft && digitNamed(key);
  return digit ? hooks.put(chosen.cell, Number(digit)) : keysNow()[key]?.();
}

watchStrokes(
  () => chosen.draft !== null,
  (place) => redraft(drafts.touch(chosen.draft, place), true),
  (place) => redraft(drafts.extend(chosen.draft, place)),
);
byId("add").addEventListener("click", () => hooks.add());
byId("undo").addEventListener("click", undo);
byId("save").addEventListener("click", save);
byId("back").addEventListener("click", () => { location.hash = ""; });
byId("more").addEventListener("click", () => showList(true));
byId("filter").addEventListener("input", () => showList().catch((fault) => say(fault.message)));
byId("filter").addEventListener("submit", (event) => event.preventDefault());
window.addEventListener("hashchange", route);
window.addEventListener("beforeunload", (event) => { if (view?.unsaved) event.preventDefault(); });
route();
