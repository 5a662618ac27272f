import { svg } from "../elements/h.js";
import { boxOnScreen } from "../elements/note_marks.js";
import { leader, nearestOn } from "../geometry/crop_marks.js";
import { chooseMargins, standInMargin } from "../geometry/margin_layout.js";
import { draftHere, regionOn } from "./desk_facts.js";
import { toScreen } from "./desk_picture.js";

const GAP_PX = 6;
const EDGE_PX = 4;
const AT_HAND_WEIGHS = 60;
const HEAD_PX = 16; // from a note's top to the middle of its first line: where its leader starts
const TURN_PX = 14;
const STAND_OFF_PX = 4;

/** Below this the notes are a list under the page. */
export const NARROW = matchMedia("(max-width: 56rem)");

/** How high a note is that is not folded, as long as the margins are as wide. */
let unfolded = new WeakMap();

/** Where more notes stand than the margins hold, those not at hand fold to one line each. Reads heights: not for every move of the page. */
export function foldNotes({ view, list }, isAnew = false) {
  if (isAnew) unfolded = new WeakMap();
  const folds = [...list.children].filter((item) => !item.classList.contains("is-at-hand"));
  const unknown = folds.filter((item) => !unfolded.has(item));
  // What is at hand does not fold, and grows as one writes.
  if (unknown.length || NARROW.matches) list.classList.remove("is-dense");
  if (NARROW.matches) return;
  for (const item of unknown) unfolded.set(item, item.offsetHeight);
  const taken = [...list.children].reduce((sum, item) => sum + (unfolded.get(item) ?? item.offsetHeight) + GAP_PX, 0);
  list.classList.toggle("is-dense", taken > 2 * view.offsetHeight);
}

/** Stands every note at the height of its spot, as near as the others allow, and draws the leaders. */
export function standNotes(known, parts) {
  const items = [...parts.list.children];
  if (NARROW.matches || !known.view) return layFlat(items, parts);
  const room = { width: parts.view.offsetWidth, height: parts.view.offsetHeight };
  const standing = items.map((item) => standingOf(item, known, room));
  const sides = chooseMargins(standing, room.height, GAP_PX);
  let lowest = 0;
  for (const side of ["left", "right"]) {
    const here = standing.filter(({ id }) => sides.get(id) === side);
    const { tops, bottom } = standInMargin(here, { top: EDGE_PX, bottom: room.height - EDGE_PX, gap: GAP_PX });
    lowest = Math.max(lowest, bottom);
    for (const { id, item } of here) {
      item.style.top = `${tops.get(id)}px`;
      item.classList.toggle("left", side === "left");
      item.classList.toggle("right", side === "right");
    }
  }
  parts.sheet.style.minHeight = `${Math.ceil(lowest) + EDGE_PX + parts.ledge.offsetHeight}px`;
  return drawLeaders(known, parts);
}

function layFlat(items, { sheet, leaders }) {
  leaders.replaceChildren();
  sheet.style.minHeight = "";
  for (const item of items) {
    item.style.top = "";
    item.classList.remove("left", "right");
  }
}

/** The region a list item speaks of, as a box on the view; null for a note on the page as a whole. */
function boxOf(item, known) {
  const id = item.dataset.note;
  const note = id === "draft" ? null : known.notes.find((one) => String(one.id) === id);
  const region = id === "draft" ? draftHere(known)?.region : note && regionOn(note, known);
  return region ? boxOnScreen(region, toScreen(known)) : null;
}

function standingOf(item, known, room) {
  const box = boxOf(item, known);
  const within = (v, most) => Math.min(most, Math.max(0, v));
  const middle = box && [within((box[0] + box[2]) / 2, room.width), within((box[1] + box[3]) / 2, room.height)];
  return {
    id: item.dataset.note, item, height: item.offsetHeight,
    weight: item.classList.contains("is-at-hand") ? AT_HAND_WEIGHS : 1,
    anchor: (middle ? middle[1] : 0) - HEAD_PX, x: middle ? middle[0] / Math.max(1, room.width) : 0.49,
  };
}

/** Drawn anew while the screen scrolls: the page stays in sight, the notes go by with their leaders, which else only hatch it. */
export function drawLeaders(known, { sheet, view, list, leaders }) {
  if (NARROW.matches || !known.view || !known.overlays.notes) return leaders.replaceChildren();
  const [origin, frame] = [sheet.getBoundingClientRect(), view.getBoundingClientRect()];
  const offset = [frame.left - origin.left, frame.top - origin.top];
  return leaders.replaceChildren(...[...list.children].map((item) => {
    const [box, edge] = [boxOf(item, known), item.getBoundingClientRect()];
    const isBeside = edge.top < frame.bottom && edge.bottom > frame.top;
    return box && isBeside && leaderOf(item, edge, box, origin, offset, [0, 0, frame.width, frame.height]);
  }).filter(Boolean));
}

/** From the note's first line to the nearest edge of its region, or of the table where the region lies beyond it. */
function leaderOf(item, edge, box, origin, offset, table) {
  const isLeft = item.classList.contains("left");
  const from = [(isLeft ? edge.right : edge.left) - origin.left, edge.top - origin.top + Math.min(HEAD_PX, edge.height / 2)];
  const turn = from[0] + (isLeft ? TURN_PX : -TURN_PX);
  const held = [box[0] - STAND_OFF_PX, box[1] - STAND_OFF_PX, box[2] + STAND_OFF_PX, box[3] + STAND_OFF_PX];
  const middle = [(box[0] + box[2]) / 2, (box[1] + box[3]) / 2];
  const near = nearestOn(held, [turn - offset[0], (from[1] - offset[1] + middle[1]) / 2]);
  const to = nearestOn(table, near).map((v, axis) => v + offset[axis]);
  const kind = item.classList.contains("is-measured") ? "is-measured" : "is-person";
  const isAtHand = item.classList.contains("is-at-hand") ? " is-at-hand" : "";
  return svg("path", { class: `leader ${kind}${isAtHand}`, d: leader(from, turn, to) });
}
