/** How a panel sees its ground, in page coordinates; an underlay's files take it in the same order (`board/actions/underlays.py`). */
import { bounds } from "./page_space.js";
import { movedOnto, numbersOnPage, stillToPage } from "./still_placement.js";

/**
 * As its lines show it, as it was set by hand, or as the still has it that was placed under it; null where nothing is known.
 * @param {{id: number, polygon: [number, number][], row?: object}} panel
 * @param {{width_px: number, height_px: number, checks?: object[]}} revision
 */
export function seenIn(panel, revision) {
  const check = revision.checks?.find((one) => one.check === "perspective");
  const measured = check?.numbers?.panels?.find((one) => one.panel === panel.id);
  return measured?.eye_level ? measured : byHand(panel) ?? ofStill(panel, revision);
}

/** Where its eye level crosses its two sides: as set on this very drawing of it, else as it is seen; else across the middle. */
export function levelAcross(panel, revision) {
  const [left, top, right, bottom] = bounds(panel.polygon);
  const set = panel.row?.given_perspective;
  const isOfHere = set?.bounds.every((v, i) => Math.abs(v - [left, top, right, bottom][i]) < 1e-6);
  const known = (isOfHere && set.eye_level) || seenIn(panel, revision)?.eye_level || [[left, (top + bottom) / 2], [right, (top + bottom) / 2]];
  const [[x0, y0], [x1, y1]] = known;
  const levelAt = (x) => y0 + ((x - x0) / (x1 - x0)) * (y1 - y0);
  return [[left, levelAt(left)], [right, levelAt(right)]];
}

function byHand({ polygon, row }) {
  const given = row?.given_perspective;
  if (!given?.eye_level) return null;
  const points = movedOnto(given.points ?? [], given.bounds, polygon).map(([x, y]) => ({ point: [x, y, 1], role: "level" }));
  return { eye_level: movedOnto(given.eye_level, given.bounds, polygon), vanishing_points: points, focal_px: null };
}

function ofStill({ polygon, row }, revision) {
  const { still, still_place: place } = row ?? {};
  if (!place || !still?.perspective?.eye_level) return null;
  const [own, page] = [still, revision].map((one) => ({ width: one.width_px, height: one.height_px }));
  const placed = stillToPage(place.in_still, movedOnto(place.on_page, place.bounds, polygon), own, page);
  return "reason" in placed ? null : numbersOnPage(placed, still.perspective, own, page);
}
