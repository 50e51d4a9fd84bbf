// A constraint that is being put together: its kind, what its fields hold so far, and which of them clicks on cells go to.
// Nothing here knows a kind: the program tells which fields each has (`kinds`).

const ON_CELLS = ["cell", "cells", "groups"];

export function begun(kind, { item = null, constraint = {}, query = null } = {}) {
  const values = {};
  for (const field of kind.fields) {
    const value = constraint[field.name] ?? field.default ?? null;
    values[field.name] = field.form === "numbers" && value ? value.join(" ") : value;
  }
  const draft = { kind, item, query, values, active: null, group: 0, stroke: null, redrawn: new Set() };
  return { ...draft, active: (openField(draft) ?? onCells(kind)[0])?.name ?? null };
}

// Another kind with what both have: fields of one name, and the cells that the mark stands on.
export function ofKind(draft, kind) {
  const lists = (from) => from.fields.filter((field) => field.form === "cells");
  const constraint = {};
  for (const field of kind.fields) {
    const same = draft.kind.fields.find((other) => other.name === field.name && other.form === field.form);
    if (same) constraint[field.name] = draft.values[field.name];
  }
  const [from, to] = [lists(draft.kind)[0], lists(kind)[0]];
  if (from && to) constraint[to.name] ??= draft.values[from.name];
  const { item, query } = draft;
  const next = begun({ ...kind, fields: kind.fields }, { item, query });
  for (const [name, value] of Object.entries(constraint)) if (value !== null) next.values[name] = value;
  return next;
}

export const onCells = (kind) => kind.fields.filter((field) => ON_CELLS.includes(field.form));
export const standsBeside = (kind) => ["side", "index"].every((name) => kind.fields.some((field) => field.name === name));
const activeField = (draft) => draft.kind.fields.find((field) => field.name === draft.active);
const openField = (draft) => onCells(draft.kind).find((field) => !draft.values[field.name]?.length);

// ---------------------------------------------------------------------------------------------- cells

// A click on a cell, or where a drag begins.
export function touch(draft, cell) {
  const field = activeField(draft);
  if (!field) return draft;
  if (field.form === "groups") return grouped(draft, field, cell);
  const held = draft.values[field.name];
  if (field.form === "cell") return filled(draft, field, cell);
  // A path that stood there is drawn anew; a set of cells is added to and taken from.
  const before = field.ordered && draft.item && !draft.redrawn.has(field.name) ? [] : held ?? [];
  const redrawn = new Set([...draft.redrawn, field.name]);
  const taking = field.ordered ? before.at(-1) === cell : before.includes(cell);
  const cells = taking ? before.filter((other, at) => (field.ordered ? at < before.length - 1 : other !== cell)) : [...before, cell];
  return filled({ ...draft, redrawn, stroke: { field: field.name, taking } }, field, cells.slice(-(field.most ?? cells.length)));
}

// A drag that has come to another cell.
export function extend(draft, cell) {
  const field = activeField(draft);
  if (!field || field.name !== draft.stroke?.field) return touch(draft, cell);
  const held = draft.values[field.name] ?? [];
  if (field.form === "groups") return draft.stroke.taking === heldIn(held, draft.group, cell) ? grouped(draft, field, cell) : draft;
  if (field.ordered) {
    if (held.at(-1) === cell) return draft;
    const back = held.length > 1 && held.at(-2) === cell;
    return filled(draft, field, back ? held.slice(0, -1) : [...held, cell].slice(0, field.most ?? Infinity));
  }
  return draft.stroke.taking === held.includes(cell) ? { ...touch(draft, cell), stroke: draft.stroke } : draft;
}

// Takes back the cell that came last.
export function shortened(draft) {
  const field = activeField(draft);
  const held = field && draft.values[field.name];
  if (!held?.length) return draft;
  if (field.form === "groups") return { ...draft, values: { ...draft.values, [field.name]: held.map((group, at) => (at === draft.group ? group.slice(0, -1) : group)) } };
  const redrawn = new Set([...draft.redrawn, field.name]);
  return { ...draft, redrawn, values: { ...draft.values, [field.name]: field.form === "cell" ? null : held.slice(0, -1) } };
}

function filled(draft, field, value) {
  const next = { ...draft, values: { ...draft.values, [field.name]: value } };
  const full = field.form === "cell" || (field.most && value.length >= field.most);
  return full ? { ...next, active: openField(next)?.name ?? draft.active } : next;
}

// ---------------------------------------------------------------------------------------------- groups of cells

const heldIn = (groups, number, cell) => groups[number]?.includes(cell) ?? false;

// A cell is in one group at most: it comes into the one that is worked on, or leaves it.
function grouped(draft, field, cell) {
  const groups = [...(draft.values[field.name] ?? [])];
  while (groups.length <= draft.group) groups.push([]);
  const taking = heldIn(groups, draft.group, cell);
  const without = groups.map((group) => group.filter((other) => other !== cell));
  if (!taking) without[draft.group].push(cell);
  return { ...draft, values: { ...draft.values, [field.name]: without }, stroke: { field: field.name, taking } };
}

// The next field that cells go to, or the next group of one that has several; after the last the first.
export function onward(draft) {
  const fields = onCells(draft.kind);
  const at = fields.findIndex((field) => field.name === draft.active);
  const groups = fields[at]?.form === "groups" ? draft.values[draft.active] ?? [] : [];
  const more = draft.group + 1 < groups.length || groups[draft.group]?.length > 0; // or one that is begun after them all
  if (more) return { ...draft, group: draft.group + 1, stroke: null };
  return { ...draft, active: fields[(at + 1) % fields.length]?.name ?? null, group: 0, stroke: null };
}

// ---------------------------------------------------------------------------------------------- what it comes to

// The constraint as it stands in a puzzle file; what is empty is left out, and the program says what is missing.
export function written(draft) {
  const constraint = { kind: draft.kind.kind };
  for (const field of draft.kind.fields) {
    const value = inFile(field, draft.values[field.name]);
    if (value !== null && value !== "" && value !== undefined) constraint[field.name] = value;
  }
  return constraint;
}

function inFile(field, value) {
  if (value === null || value === undefined) return field.form === "cells" ? [] : null;
  if (field.form === "groups") return value.filter((group) => group.length > 0);
  if (field.form === "numbers") return String(value).split(/[\s,]+/).filter(Boolean).map(numbered);
  return field.form === "number" ? numbered(String(value).trim()) : value;
}

// What is no number goes as it was typed: the program says what is wrong with it.
const numbered = (text) => (/^-?\d+$/.test(text) ? Number(text) : text);

// The cells of each field: those that clicks go to now, and all others.
export function marked(draft) {
  const now = new Set();
  const others = new Set();
  for (const field of onCells(draft.kind)) {
    const value = draft.values[field.name] ?? [];
    const lists = field.form === "groups" ? value : [[value].flat()];
    lists.forEach((cells, number) => {
      const here = field.name === draft.active && (field.form !== "groups" || number === draft.group);
      for (const cell of cells) (here ? now : others).add(cell);
    });
  }
  return { now, others };
}

// The field that is drawn as a path now, in its order.
export function pathOf(draft) {
  const field = activeField(draft);
  return field?.form === "cells" && field.ordered ? draft.values[field.name] ?? [] : [];
}
