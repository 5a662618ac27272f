/**
 * Page coordinates: fractions of the uploaded picture's width and height. The twin of `board/page_space.py`; both are run over one
 * table of vectors.
 *
 * @typedef {[number, number]} Point
 * @typedef {{polygon: Point[]} | {point: Point}} Region
 */
import { exactSum } from "./exact_sum.js";

/** @param {{width: number, height: number}} size @param {Point} point @returns {Point} */
export const toPixels = (size, point) => [point[0] * size.width, point[1] * size.height];

/** @param {{width: number, height: number}} size @param {Point} pointPx @returns {Point} */
export const toPage = (size, pointPx) => [pointPx[0] / size.width, pointPx[1] / size.height];

/** Corners with their followers: [[a, b], [b, c], [c, a]]. */
const edgesOf = (polygon) => polygon.map((point, i) => [point, polygon[(i + 1) % polygon.length]]);

/** Positive where the corners run clockwise on screen (y down). */
export const signedArea = (polygon) => exactSum(edgesOf(polygon).map(([a, b]) => a[0] * b[1] - b[0] * a[1])) / 2;

export const area = (polygon) => Math.abs(signedArea(polygon));

/** Where a leader line ends: the point itself, or the centroid of the outline. @param {Region} region @returns {Point} */
export function middleOf(region) {
  if ("point" in region) return [region.point[0], region.point[1]];
  const twice = 2 * signedArea(region.polygon);
  if (twice === 0) return bounds(region.polygon).slice(0, 2);
  const weighted = edgesOf(region.polygon).map(([a, b]) => [a, b, a[0] * b[1] - b[0] * a[1]]);
  return [0, 1].map((axis) => exactSum(weighted.map(([a, b, cross]) => (a[axis] + b[axis]) * cross)) / (3 * twice));
}

/** left, top, right, bottom. @param {Point[]} polygon */
export function bounds(polygon) {
  const xs = polygon.map((p) => p[0]);
  const ys = polygon.map((p) => p[1]);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

/** Even-odd rule; a point on an edge may fall either way. @param {Point[]} polygon @param {Point} point */
export function contains(polygon, [x, y]) {
  let inside = false;
  for (const [a, b] of edgesOf(polygon))
    if (a[1] > y !== b[1] > y && x < ((b[0] - a[0]) * (y - a[1])) / (b[1] - a[1]) + a[0]) inside = !inside;
  return inside;
}

/** Intersection over union of the two bounding boxes, 0..1. */
export function boxOverlap(first, second) {
  const [a, b] = [bounds(first), bounds(second)];
  const width = Math.min(a[2], b[2]) - Math.max(a[0], b[0]);
  const height = Math.min(a[3], b[3]) - Math.max(a[1], b[1]);
  if (width <= 0 || height <= 0) return 0;
  const both = width * height;
  return both / ((a[2] - a[0]) * (a[3] - a[1]) + (b[2] - b[0]) * (b[3] - b[1]) - both);
}

/** The outline of a box between two opposite corners, clockwise. @param {Point} from @param {Point} to @returns {Point[]} */
export function boxBetween(from, to) {
  const [left, top, right, bottom] = bounds([from, to]);
  return [[left, top], [right, top], [right, bottom], [left, bottom]];
}

/** A picture so much taller than wide that as a whole it cannot be read. */
export const isTall = (size) => Boolean(size) && size.height_px > 2.5 * size.width_px;
