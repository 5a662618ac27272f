/** Two corrections of the same panels, brought together panel by panel. No element is touched here. */
import { boxOverlap } from "../geometry/page_space.js";
import { changed, panelsOf } from "./panels_edit_model.js";

/** From this overlap on, two panels that two people added are one. */
const SAME_PANEL = 0.6;
const NEARLY = 1e-6;

const isSameShape = (a, b) =>
  a.framed === b.framed && a.polygon.length === b.polygon.length && a.polygon.every((point, i) => point.every((v, k) => Math.abs(v - b.polygon[i][k]) < NEARLY));

/** Whether they are the same panels in the same order; one that is new here is known by its shape. */
export const areSame = (panels, others) =>
  panels.length === others.length && panels.every((one, i) => [null, others[i].id].includes(one.id) && isSameShape(one, others[i]));

/**
 * An edit goes on from what somebody else kept meanwhile. What was not changed here is as they set it; what both changed stays as it is here,
 * and `theirs` has their outline.
 * @param {import("./panels_edit_model.js").Edit} edit @param {any} revision as it is now @param {number} version of its page
 * @returns {import("./panels_edit_model.js").Edit}
 */
export function metWith(edit, revision, version) {
  const others = panelsOf(revision);
  const [base, now] = [byId(edit.base), byId(others)];
  const known = knownAsTheirs(edit.panels, others, base);
  const mine = byId(known);
  const isTouched = (id, here) => Boolean(base.get(id)) && !(here.get(id) && isSameShape(here.get(id), base.get(id)));
  const kept = (one) => {
    if (one.id === null || !base.has(one.id)) return mine.get(one.id) ?? one;
    return isTouched(one.id, mine) ? (mine.get(one.id) ?? null) : (now.get(one.id) && { ...now.get(one.id), key: mine.get(one.id).key });
  };
  const isOrderedHere = !areInOrder(known, edit.base);
  const [first, second] = isOrderedHere ? [known, others] : [others, known];
  const panels = united(first, second).map(kept).filter(Boolean);
  const isBoth = (one) => (base.has(one.id) ? isTouched(one.id, mine) && isTouched(one.id, now) : mine.has(one.id)) && !(mine.get(one.id) && isSameShape(one, mine.get(one.id)));
  const chosen = panels.some(({ key }) => key === edit.chosen) ? edit.chosen : null;
  return changed(edit, panels, { chosen, corner: null, line: null, tool: "shape", base: others, version, theirs: others.filter(isBoth) });
}

const byId = (panels) => new Map(panels.filter(({ id }) => id !== null).map((one) => [one.id, one]));

/** A panel that both added is theirs, since that is known on the server already. */
function knownAsTheirs(panels, others, base) {
  const free = others.filter(({ id }) => !base.has(id));
  return panels.map((one) => {
    const twin = one.id === null && free.find(({ polygon }) => boxOverlap(polygon, one.polygon) >= SAME_PANEL);
    if (!twin) return one;
    free.splice(free.indexOf(twin), 1);
    return { ...one, id: twin.id };
  });
}

/** Whether the panels that are in both lists come in the same order in both. */
function areInOrder(panels, others) {
  const inBoth = (list, other) => list.map(({ id }) => id).filter((id) => other.has(id));
  const [a, b] = [inBoth(panels, byId(others)), inBoth(others, byId(panels))];
  return a.every((id, i) => id === b[i]);
}

/** The first list, and what only the second has, each behind what it comes after there. */
function united(first, second) {
  const all = [...first];
  const placeOf = (one) => all.findIndex((other) => other.key === one.key || (one.id !== null && other.id === one.id));
  second.forEach((one, i) => {
    if (placeOf(one) >= 0) return;
    const before = i ? placeOf(second[i - 1]) : -1;
    all.splice(before + 1, 0, one);
  });
  return all;
}
