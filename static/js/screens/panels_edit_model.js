/** Panels being corrected, as values: every change gives a new one and can be taken back. No element is touched here. */
import { area, boxBetween, contains } from "../geometry/page_space.js";
import { cut, hullOf, inReadingOrder, LEAST_AREA, moved } from "../geometry/panel_edits.js";

/**
 * @typedef {{key: string, id: number|null, polygon: [number, number][], framed: boolean}} EditedPanel
 * @typedef {{revision: number, version: number, panels: EditedPanel[], chosen: string|null, corner: number|null,
 *   tool: "shape"|"add"|"cut"|"merge"|"exchange", line: [number, number][]|null, past: {panels: EditedPanel[], chosen: string|null}[], made: number,
 *   base: EditedPanel[], theirs: EditedPanel[]}} Edit
 *   `base`: as the server has them, as far as it is known here; `theirs`: what somebody else made meanwhile of a panel that is changed here too
 */

/** In reading order. @returns {EditedPanel[]} */
export const panelsOf = (revision) =>
  [...revision.panels].sort((a, b) => a.order - b.order).map(({ id, polygon, framed }) => ({ key: `panel-${id}`, id, polygon, framed }));

/** @returns {Edit} */
export const begun = (revision, version) => ({
  revision: revision.id, version, chosen: null, corner: null, tool: "shape", line: null, past: [], made: 0, theirs: [],
  panels: panelsOf(revision), base: panelsOf(revision),
});

export const chosenOf = (edit) => edit.panels.find((one) => one.key === edit.chosen) ?? null;
export const hasChanged = (edit) => edit.past.length > 0;

/** The panels with something done to them, which `undone` takes back. */
export const changed = (edit, panels, more = {}) => ({ ...edit, panels, past: [...edit.past, { panels: edit.panels, chosen: edit.chosen }], ...more });
const reshaped = (edit, polygon) => edit.panels.map((one) => (one.key === edit.chosen ? { ...one, polygon } : one));

export const undone = (edit) =>
  edit.past.length ? { ...edit, ...edit.past.at(-1), past: edit.past.slice(0, -1), corner: null, tool: "shape", line: null } : edit;

export const choose = (edit, key) => ({ ...edit, chosen: key, corner: null, line: null, tool: "shape" });

export function chooseBeside(edit, step) {
  const { panels } = edit;
  if (!panels.length) return edit;
  const at = panels.findIndex((one) => one.key === edit.chosen);
  return choose(edit, panels[at < 0 ? (step > 0 ? 0 : panels.length - 1) : (at + step + panels.length) % panels.length].key);
}

/** Another shape for the chosen panel; one that encloses nothing is not taken. `isSame`: part of the change before, as in one drag. */
export function reshape(edit, polygon, isSame = false) {
  if (!chosenOf(edit) || area(polygon) < LEAST_AREA) return edit;
  const panels = reshaped(edit, polygon);
  return isSame ? { ...edit, panels } : changed(edit, panels);
}

/** A new panel between two opposite corners, after the chosen one in the order. */
export function add(edit, from, to) {
  const polygon = boxBetween(from, to).map((point) => point.map((v) => Math.min(1, Math.max(0, v))));
  if (area(polygon) < LEAST_AREA) return edit;
  const key = `new-${edit.made}`;
  const at = edit.panels.findIndex((one) => one.key === edit.chosen) + 1 || edit.panels.length;
  const panels = [...edit.panels.slice(0, at), { key, id: null, polygon, framed: true }, ...edit.panels.slice(at)];
  return changed(edit, panels, { chosen: key, corner: null, tool: "shape", line: null, made: edit.made + 1 });
}

/** The chosen panel (or the one that the line's middle lies in) in two; the first part stays the panel that it was. */
export function cutBy(edit, line, reading) {
  const middle = [0, 1].map((axis) => (line[0][axis] + line[1][axis]) / 2);
  const panel = chosenOf(edit) ?? panelUnder(edit, middle);
  const parts = panel && cut(panel.polygon, line);
  if (!parts) return null;
  const [first, second] = inReadingOrder(parts, reading);
  const panels = edit.panels.flatMap((one) =>
    one.key === panel.key ? [{ ...one, polygon: first }, { ...one, key: `new-${edit.made}`, id: null, polygon: second }] : [one]);
  return changed(edit, panels, { chosen: panel.key, corner: null, tool: "shape", line: null, made: edit.made + 1 });
}

/** The chosen panel and another as one, which stays the panel that comes first. */
export function mergeWith(edit, key) {
  const pair = edit.panels.filter((one) => one.key === edit.chosen || one.key === key);
  if (pair.length < 2) return edit;
  const [first, second] = pair;
  const joined = { ...first, polygon: hullOf([...first.polygon, ...second.polygon]), framed: first.framed && second.framed };
  const panels = edit.panels.filter((one) => one !== second).map((one) => (one === first ? joined : one));
  return changed(edit, panels, { chosen: first.key, corner: null, tool: "shape", line: null });
}

/** The chosen panel stands where another stood, and that one in its place: their words, notes and all else go along. */
export function exchangedWith(edit, key) {
  const chosen = chosenOf(edit);
  const other = edit.panels.find((one) => one.key === key);
  if (!chosen || !other || chosen === other) return edit;
  const inPlaceOf = (one, { polygon, framed }) => ({ ...one, polygon, framed });
  const panels = edit.panels.map((one) => (one === chosen ? inPlaceOf(other, chosen) : one === other ? inPlaceOf(chosen, other) : one));
  return changed(edit, panels, { corner: null, line: null, tool: "shape" });
}

export function remove(edit) {
  return chosenOf(edit) ? changed(edit, edit.panels.filter((one) => one.key !== edit.chosen), { chosen: null, corner: null, line: null, tool: "shape" }) : edit;
}

/** The chosen panel at this place in reading order, from 1. */
export function toPlace(edit, place) {
  const from = edit.panels.findIndex((one) => one.key === edit.chosen);
  const to = Math.min(edit.panels.length, Math.max(1, place)) - 1;
  return from < 0 || from === to ? edit : changed(edit, moved(edit.panels, from, to));
}

/** The smallest panel over a point: an inset lies over the panel around it. */
export const panelUnder = (edit, point) =>
  edit.panels.filter((one) => contains(one.polygon, point)).sort((a, b) => area(a.polygon) - area(b.polygon))[0] ?? null;

/** What the server is sent. */
export const bodyOf = (edit) => edit.panels.map(({ id, polygon, framed }) => ({ ...(id === null ? {} : { id }), polygon, framed }));
