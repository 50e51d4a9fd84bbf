// The form of a constraint that is being put together: one control for each field that its kind has.

import { byId, element } from "./dom.js";
import { onCells, standsBeside } from "./draft.js";

export function formOf(draft, kinds, hooks) {
  return [
    element("h3", {}, draft.item ? "Change it" : "Add what was overlooked"),
    element("form", { novalidate: true, submit: (event) => { event.preventDefault(); hooks.finish(); } },
      kindControl(draft, kinds, hooks),
      element("p", { class: "how" }, draft.kind.says),
      ...draft.kind.fields.map((field) => fieldControl(draft, field, hooks)),
      element("p", { class: "how" }, guidance(draft)),
      element("p", {}, element("button", { type: "submit", name: "finish" }, draft.item ? "Change " : "Put in ", element("kbd", {}, "Enter")), " ",
        element("button", { type: "button", name: "leave", click: () => hooks.leave() }, "Leave as it was ", element("kbd", {}, "Esc")))),
  ];
}

function guidance({ kind }) {
  if (standsBeside(kind)) return "Click the place beside the grid, or choose its side and number.";
  if (onCells(kind).length === 0) return "";
  return "Click cells or drag over them, in the scan or the drawing; or arrows and space bar.";
}

function kindControl(draft, kinds, hooks) {
  const options = (wanted) => kinds.filter(wanted).map(({ kind, name }) =>
    element("option", { value: kind, selected: kind === draft.kind.kind }, name));
  return element("label", {}, "Kind ", element("select", { name: "kind", change: (event) => hooks.kind(event.target.value) },
    element("optgroup", { label: "marks" }, ...options((kind) => kind.drawn)),
    element("optgroup", { label: "rules without a mark" }, ...options((kind) => !kind.drawn))));
}

function fieldControl(draft, field, hooks) {
  const value = draft.values[field.name];
  if (field.form === "groups") return groupsControl(draft, field, value ?? [], hooks);
  if (field.form === "cell" || field.form === "cells") {
    const cells = [value ?? []].flat().join(" ") || "no cell yet";
    return onCellsControl(draft, field, `${field.name}: ${cells}`, hooks);
  }
  return element("label", {}, `${field.name} `, control(field, value, hooks));
}

function onCellsControl(draft, field, words, hooks) {
  const active = field.name === draft.active;
  return element("p", {}, element("button", { type: "button", name: field.name, "aria-pressed": String(active),
    click: () => hooks.aim(field.name, draft.group) }, words));
}

function groupsControl(draft, field, groups, hooks) {
  const buttons = [...groups, []].map((cells, number) => element("button", {
    type: "button", name: `${field.name} ${number + 1}`,
    "aria-pressed": String(field.name === draft.active && number === draft.group),
    click: () => hooks.aim(field.name, number),
  }, number < groups.length ? `${number + 1}: ${cells.join(" ") || "empty"}` : "one more"));
  return element("div", { class: "groups", role: "group", "aria-label": field.name }, ...buttons);
}

function control(field, value, hooks) {
  const changed = (event) => hooks.fill(field.name, field.form === "switch" ? event.target.checked : event.target.value);
  const named = { name: field.name, input: changed };
  if (field.form === "switch") return element("input", { type: "checkbox", checked: value === true, ...named });
  if (field.form === "choice") {
    const blank = value === null ? [element("option", { value: "" }, "choose")] : [];
    return element("select", named, ...blank, ...field.options.map((option) =>
      element("option", { value: option, selected: option === value }, option)));
  }
  const mode = field.form === "number" ? "numeric" : null;
  return element("input", { type: "text", inputmode: mode, autocomplete: "off", value, ...named });
}

// The control that has the keyboard keeps it when the form is made anew.
export function focusedName() {
  const here = document.activeElement;
  return byId("item").contains(here) ? here.name ?? "" : null;
}

export function focusNamed(name) {
  const found = [...byId("item").querySelectorAll("[name]")].find((control) => control.name === name);
  found?.focus();
  return Boolean(found);
}
