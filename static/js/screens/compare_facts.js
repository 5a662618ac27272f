/** Questions about what Compare knows; no element is touched here. */
import { isClosed } from "../elements/words.js";
import { mapOfSteps, qualityOf } from "../geometry/page_map.js";

/** @type {[string, string, string][]} */
export const MODES = [
  ["fade", "Fade", "The newer sheet fades into the older one"],
  ["split", "Split", "The older sheet left of an edge, the newer one right of it"],
  ["flip", "Flip", "One sheet on the other, turned over and back as an animator flips drawings"],
  ["differs", "What differs", "Lines that are gone in red, lines that are new in blue, lines that stayed in grey"],
  ["side", "Side by side", "Both sheets beside one another, moved and zoomed together"],
];

/** How each sheet is seen: opacity 0..1 of the three layers, and the share of the width that the newer one leaves free at its left. */
export function layersOf({ mode, isFlipped, fade, edge }) {
  if (mode === "side") return { older: 1, newer: 1, differs: 0, clip: 0 };
  if (isFlipped) return { older: 1, newer: 0, differs: 0, clip: 0 };
  if (mode === "differs") return { older: 0, newer: 0, differs: 1, clip: 0 };
  return { older: 1, newer: mode === "fade" ? fade / 100 : 1, differs: 0, clip: mode === "split" ? edge / 100 : 0 };
}

/** Pictures of the whole page that can be laid on one another, oldest first. */
export const comparable = (revisions) =>
  revisions.filter((one) => one.state === "ready" && !one.panel && one.renditions.length).sort((a, b) => a.number - b.number);

/**
 * The two that are asked for, the older first; where the address does not say, the page's own picture and the one it came from.
 * @returns {{older: any, newer: any} | null} null where there are not two
 */
export function pairOf(revisions, { before, after, current }) {
  const rows = comparable(revisions);
  if (rows.length < 2) return null;
  const find = (id) => rows.find((one) => one.id === id);
  let newer = find(after) ?? find(current) ?? rows.at(-1);
  if (!find(after) && newer === rows[0]) newer = rows[1];
  const rest = rows.filter((one) => one !== newer);
  const older = (before !== newer.id && find(before)) || find(newer.changes?.before) || rest.filter((one) => one.number < newer.number).at(-1) || rest[0];
  return older.number < newer.number ? { older, newer } : { older: newer, newer: older };
}

/** What changed in each panel from the older to the newer, where the two follow one another. @returns {Map<number, any>} */
export function wordsBetween({ older, newer }) {
  const changes = newer?.changes;
  return new Map(changes && changes.before === older?.id ? changes.panels.map((row) => [row.panel, row]) : []);
}

export const nameOfRevision = (one) =>
  `${one.number}, ${one.stage}${one.alternate === "A" ? "" : ` ${one.alternate}`}${one.withdrawn_at ? ", withdrawn" : ""}`;

export const panelsOf = ({ newer }) => [...(newer?.panels ?? [])].sort((a, b) => a.order - b.order);

/** The panel after the one at hand, or before it, going round. */
export function panelBeside(known, step) {
  const panels = panelsOf(known);
  if (!panels.length) return null;
  const at = panels.findIndex((one) => one.id === known.panel);
  return panels[at < 0 ? (step > 0 ? 0 : panels.length - 1) : (at + step + panels.length) % panels.length];
}

/** Whether a map leads from the older sheet to the newer one that found something in common. */
export const canRegister = ({ steps }) => Boolean(steps?.length) && qualityOf(steps) > 0;
export const isRegistered = (known) => known.wantsRegistered && canRegister(known);

/** What of a note lies on one sheet, in that sheet's own page coordinates. @returns {{region: any, lines: any[]} | null} */
function standsOn(note, sheet) {
  if (note.here?.revision === sheet?.id) return note.here;
  return note.revision === sheet?.id && note.region ? note : null;
}

/** Notes of the page as a whole, and those that stand on one of the two sheets. */
export const notesOnPair = (notes, { older, newer }) =>
  newer ? notes.filter((note) => note.scope !== "region" || standsOn(note, older) || standsOn(note, newer)) : [];

const moved = ({ region, lines }, map) => ({
  region: "point" in region ? { point: map(region.point) } : { polygon: region.polygon.map(map) },
  lines: (lines ?? []).map((line) => ({ ...line, points: line.points.map(map) })),
});

/**
 * Where a note lies on the older and on the newer sheet as they are seen: both are laid out in the newer one's page coordinates.
 * Each is null where that is not known; a note that is known on one of two sheets without a map lies on that one alone.
 * @returns {{older: any, newer: any}}
 */
export function placesOf(note, known) {
  const [before, after] = [standsOn(note, known.older), standsOn(note, known.newer)];
  const map = canRegister(known) ? mapOfSteps(known.steps) : null;
  const carried = before && map ? moved(before, map) : null;
  const newer = after ?? carried;
  const older = isRegistered(known) ? (carried ?? after) : before;
  return { older, newer };
}

/** Where a note is shown while the sheets lie on one another: on the one that is seen. */
export function placeSeen(note, known) {
  const { older, newer } = placesOf(note, known);
  return known.isFlipped ? (older ?? newer) : (newer ?? older);
}

/** How many are left out while closed ones are not asked for. */
export const closedCount = ({ notes }) => notes.filter(isClosed).length;
