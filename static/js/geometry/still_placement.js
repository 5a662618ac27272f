/**
 * Where a still lies under its panel: scaled, turned and shifted, as two points of each tell. The twin of `board/still_placement.py`;
 * both are run over one table of vectors.
 *
 * @typedef {[number, number]} Point
 * @typedef {{width: number, height: number}} Size px
 */
import { bounds, toPage, toPixels } from "./page_space.js";

const LEAST_APART = 0.02; // of the picture's diagonal

/**
 * A point z of the still lies at `turn` * z + `shift` on the page, as complex numbers in px.
 * @param {Point[]} inStill @param {Point[]} onPage the same two, each in its own picture's coordinates @param {Size} still @param {Size} page
 * @returns {{turn: Point, shift: Point} | {reason: string}}
 */
export function stillToPage(inStill, onPage, still, page) {
  for (const [size, points, name] of [[still, inStill, "still"], [page, onPage, "panel"]])
    if (Math.hypot(...between(size, points)) < LEAST_APART * Math.hypot(size.width, size.height))
      return { reason: `The two points in the ${name} lie too near to each other: choose two that stand apart.` };
  const turn = over(between(page, onPage), between(still, inStill));
  const [from, to] = [times(turn, toPixels(still, inStill[0])), toPixels(page, onPage[0])];
  return { turn, shift: [to[0] - from[0], to[1] - from[1]] };
}

/** As an SVG transform from the still's px to the page's. */
export const asMatrix = ({ turn: [a, b], shift: [x, y] }) => `matrix(${[a, b, -b, a, x, y].join(" ")})`;

/** What the still's perspective is on the page; `centre` is its middle, wherever the panel crops it. @param {Size} still @param {Size} page */
export function numbersOnPage({ turn, shift }, numbers, still, page) {
  const moved = ([x, y, w]) => {
    const at = times(turn, toPixels(still, [x, y]));
    return [...toPage(page, [at[0] + shift[0] * w, at[1] + shift[1] * w]), w];
  };
  const place = (point) => moved([...point, 1]).slice(0, 2);
  return {
    eye_level: numbers.eye_level.map(place), focal_px: numbers.focal_px && numbers.focal_px * Math.hypot(...turn), centre: place([0.5, 0.5]),
    vanishing_points: (numbers.vanishing_points ?? []).map((one) => ({ ...one, point: moved(one.point) })),
  };
}

/** Points that were set while the panel had the bounds `before`, moved along to where it is now. */
export function movedOnto(points, before, polygon) {
  const now = bounds(polygon);
  const along = (v, axis) => now[axis] + ((v - before[axis]) * (now[axis + 2] - now[axis])) / (before[axis + 2] - before[axis]);
  return points.map(([x, y]) => [along(x, 0), along(y, 1)]);
}

const times = ([a, b], [x, y]) => [a * x - b * y, a * y + b * x];
const over = ([a, b], [x, y]) => [(a * x + b * y) / (x * x + y * y), (b * x - a * y) / (x * x + y * y)];

function between(size, [first, second]) {
  const [from, to] = [toPixels(size, first), toPixels(size, second)];
  return [to[0] - from[0], to[1] - from[1]];
}
