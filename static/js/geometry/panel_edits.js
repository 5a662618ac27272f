/**
 * Outlines of panels as people correct them. Page coordinates, 0 to 1; an outline is never pushed off the page.
 *
 * @typedef {[number, number]} Point
 */
import { area, bounds } from "./page_space.js";

/** A panel of less than this share of the page is a slip of the hand. */
export const LEAST_AREA = 0.0004;

const onPage = ([x, y]) => [Math.min(1, Math.max(0, x)), Math.min(1, Math.max(0, y))];

/** One corner somewhere else. @param {Point[]} polygon */
export const withCorner = (polygon, corner, point) => polygon.map((one, k) => (k === corner ? onPage(point) : one));

/** One edge, from its corner on, moved along. */
export const withEdge = (polygon, edge, [dx, dy]) =>
  polygon.map((one, k) => (k === edge || k === (edge + 1) % polygon.length ? onPage([one[0] + dx, one[1] + dy]) : one));

/** The whole outline moved, as far as the page goes. */
export function shifted(polygon, [dx, dy]) {
  const [left, top, right, bottom] = bounds(polygon);
  const by = [Math.max(-left, Math.min(1 - right, dx)), Math.max(-top, Math.min(1 - bottom, dy))];
  return polygon.map(([x, y]) => [x + by[0], y + by[1]]);
}

/**
 * Cut by the line through two points.
 * @param {Point[]} polygon @param {[Point, Point]} line
 * @returns {[Point[], Point[]] | null} null where the line leaves less than a panel on either side
 */
export function cut(polygon, [from, to]) {
  const side = ([x, y]) => (to[0] - from[0]) * (y - from[1]) - (to[1] - from[1]) * (x - from[0]);
  const parts = [1, -1].map((sign) => clipped(polygon, (point) => sign * side(point)));
  return parts.every((part) => part.length > 2 && area(part) >= LEAST_AREA) ? /** @type {any} */ (parts) : null;
}

/** What lies where `height` is positive (Sutherland and Hodgman 1974). */
function clipped(polygon, height) {
  return polygon.flatMap((a, k) => {
    const b = polygon[(k + 1) % polygon.length];
    const [ha, hb] = [height(a), height(b)];
    const share = ha / (ha - hb);
    const crossing = ha > 0 !== hb > 0 ? [[a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])]] : [];
    return ha > 0 ? [a, ...crossing] : crossing;
  });
}

/** The outline around several: their convex hull, clockwise on screen (Andrew 1979). @param {Point[]} points */
export function hullOf(points) {
  const inOrder = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (row) => {
    const chain = [];
    for (const point of row) {
      while (chain.length > 1 && turn(chain.at(-2), chain.at(-1), point) <= 1e-12) chain.pop();
      chain.push(point);
    }
    return chain.slice(0, -1);
  };
  return [...half(inOrder), ...half(inOrder.reverse())];
}

const turn = (a, b, c) => (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);

/** The same list with one thing at another place. */
export function moved(list, from, to) {
  const rest = list.filter((_, k) => k !== from);
  return [...rest.slice(0, to), list[from], ...rest.slice(to)];
}

/** Two parts in reading order: the upper one first, else the one on the side that reading begins. @param {"ltr"|"rtl"} reading */
export function inReadingOrder(parts, reading) {
  const [a, b] = parts.map((part) => bounds(part));
  const isStacked = Math.min(a[3], b[3]) - Math.max(a[1], b[1]) < 0.5 * Math.min(a[3] - a[1], b[3] - b[1]);
  const isFirst = isStacked ? a[1] + a[3] <= b[1] + b[3] : (a[0] + a[2] <= b[0] + b[2]) === (reading !== "rtl");
  return isFirst ? parts : [parts[1], parts[0]];
}
