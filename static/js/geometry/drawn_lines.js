/**
 * What a note draws over the page: strokes and arrows in page coordinates, as `board/drawn_lines.py` reads them.
 *
 * @typedef {[number, number]} Point
 * @typedef {{kind: "stroke"|"arrow", points: Point[], pressures?: number[]}} Line
 */
import { arrowHead } from "./clip_line.js";
import { bounds } from "./page_space.js";

export const MOST_LINES = 60;
export const MOST_POINTS = 500;
const LEAST_SIDE = 0.004;
const [THIN_PX, THICK_PX, EVEN_PX] = [1.2, 6, 2.6];
const HEAD_PX = 15;

/** As SVG paths on the screen, each with its width: a pressed pen draws a thicker line. @param {Line} line @param {(point: Point) => Point} at */
export function linePaths({ kind, points, pressures }, at) {
  const px = points.map(at);
  if (kind === "arrow") return [{ d: pathOf(px) + arrowHead(px[0], px[1], HEAD_PX), width: EVEN_PX }];
  if (!pressures) return [{ d: pathOf(px), width: EVEN_PX }];
  const runs = [];
  for (let i = 1; i < px.length; i++) {
    const width = Math.round(2 * (THIN_PX + (THICK_PX - THIN_PX) * ((pressures[i - 1] + pressures[i]) / 2))) / 2;
    if (runs.at(-1)?.width === width) runs.at(-1).points.push(px[i]);
    else runs.push({ width, points: [px[i - 1], px[i]] });
  }
  return runs.map(({ width, points: run }) => ({ d: pathOf(run), width }));
}

const pathOf = (points) => `M${points.map((point) => point.map((v) => Math.round(v * 10) / 10).join(" ")).join("L")}`;

/** The box around them, which encloses something even where they run straight. @param {Line[]} lines */
export function regionAround(lines) {
  const [left, top, right, bottom] = bounds(lines.flatMap(({ points }) => points));
  const [[x0, x1], [y0, y1]] = [apart(left, right), apart(top, bottom)];
  return { polygon: [[x0, y0], [x1, y0], [x1, y1], [x0, y1]] };
}

function apart(low, high) {
  if (high - low >= LEAST_SIDE) return [low, high];
  const middle = Math.min(1 - LEAST_SIDE / 2, Math.max(LEAST_SIDE / 2, (low + high) / 2));
  return [middle - LEAST_SIDE / 2, middle + LEAST_SIDE / 2];
}

/**
 * Which points of a line are kept so that none is left out that lies further off than `tolerance` (Douglas and Peucker 1973).
 * @param {Point[]} points @param {number} tolerance @returns {number[]} their places
 */
export function keptPoints(points, tolerance) {
  const kept = new Set([0, points.length - 1]);
  const waiting = [[0, points.length - 1]];
  while (waiting.length) {
    const [from, to] = waiting.pop();
    let [far, most] = [-1, tolerance];
    for (let i = from + 1; i < to; i++) {
      const off = offSegment(points[i], points[from], points[to]);
      if (off > most) [far, most] = [i, off];
    }
    if (far < 0) continue;
    kept.add(far);
    waiting.push([from, far], [far, to]);
  }
  return [...kept].sort((a, b) => a - b);
}

/** As fine as the tolerance allows, and never more points than a line may have. */
export function keptWithin(points, tolerance, most = MOST_POINTS) {
  for (let off = tolerance; ; off *= 1.6) {
    const kept = keptPoints(points, off);
    if (kept.length <= most) return kept;
  }
}

function offSegment([x, y], [x0, y0], [x1, y1]) {
  const [dx, dy] = [x1 - x0, y1 - y0];
  const long = dx * dx + dy * dy;
  const share = long ? Math.min(1, Math.max(0, ((x - x0) * dx + (y - y0) * dy) / long)) : 0;
  return Math.hypot(x - x0 - share * dx, y - y0 - share * dy);
}
