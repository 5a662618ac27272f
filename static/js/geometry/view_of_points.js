/** The camera over its ground that an eye level and vanishing points stand for; `board/ground_view.py` tells how. */
import { GroundView, rayOf } from "./ground_view.js";
import { cross, dot, scaled, unit } from "./vectors.js";

const STEEPEST = 0.2;
const FARTHEST = 50;
const CONE = Math.PI / 3;
const SQUARE_WITHIN = Math.PI / 9;
const LEAST_PX = 1e-6;
const WIDEST_SHARE = 0.625;

/** @returns {GroundView | {reason: string}} see the Python twin for what is taken */
export function groundView({ horizon, level, upright, middle, diagonalPx, focalPx = null, eyeHeightM = null, centre = null }) {
  const line = pointingDown(horizon);
  if (!line || ![...middle, ...(centre ?? []), diagonalPx].every(Number.isFinite) || diagonalPx <= 0)
    return { reason: "The eye level is not known, or runs up the picture." };
  if (eyeHeightM !== null && !(Number.isFinite(eyeHeightM) && eyeHeightM > 0))
    return { reason: "The viewer's eye has to be above the ground." };
  const given = Number.isFinite(focalPx) && focalPx > 0 ? focalPx : null;
  const points = level.filter((point) => point.every(Number.isFinite) && point.some(Boolean));
  const about = centre ?? middle;
  const placed = centre && given !== null ? knownCamera(line, centre, given)
    : isFar(upright, diagonalPx) ? levelCamera(line, about, points, diagonalPx, given)
      : tiltedCamera(line, [upright[0] / upright[2], upright[1] / upright[2]], about, given);
  if (!placed) return { reason: "The uprights meet on the eye level: no floor can be laid." };
  const directions = levelDirections(points, placed.focalPx, placed.centre, placed.down);
  return new GroundView({ ...placed, level: directions, eyeHeight: eyeHeightM ?? 1, isMeasured: eyeHeightM !== null });
}

function knownCamera(line, centre, focalPx) {
  const down = unit([line[0] * focalPx, line[1] * focalPx, dot(line, [...centre, 1])]);
  return { centre, focalPx, down, focalIsAssumed: false };
}

/** A single finite point is looked at square on; two part the eye level so that their distances multiply to f². */
function levelCamera(line, middle, points, diagonalPx, given) {
  const foot = footOn(line, middle);
  const near = points.slice(0, 2).filter((point) => !isFar(point, diagonalPx));
  const [first, second] = near.map((p) => (p[0] / p[2] - foot[0]) * line[1] - (p[1] / p[2] - foot[1]) * line[0]).sort((a, b) => a - b);
  let [at, shown] = [0, given];
  if (near.length === 1 && points.length > 1) at = first;
  else if (near.length === 2 && given === null && first < 0 && second > 0) shown = Math.sqrt(-first * second);
  else if (near.length === 2 && given !== null && given <= WIDEST_SHARE * (second - first)) {
    at = first + parting(second - first, -first, given);
    shown = Math.sqrt((at - first) * (second - at));
  }
  const centre = [foot[0] + at * line[1], foot[1] - at * line[0]];
  return { centre, focalPx: shown ?? diagonalPx / 2 / Math.tan(CONE / 2), down: [line[0], line[1], 0], focalIsAssumed: shown === null };
}

/** The centre parts the way from the eye level straight to the uprights' point in two: their product is f². */
function tiltedCamera(line, upright, middle, given) {
  const foot = footOn(line, upright);
  const span = Math.hypot(upright[0] - foot[0], upright[1] - foot[1]);
  if (span < LEAST_PX) return null;
  const way = [(upright[0] - foot[0]) / span, (upright[1] - foot[1]) / span];
  const wished = (middle[0] - foot[0]) * way[0] + (middle[1] - foot[1]) * way[1];
  const at = given === null ? Math.min(Math.max(wished, 0.02 * span), 0.98 * span) : parting(span, wished, given);
  const centre = [foot[0] + at * way[0], foot[1] + at * way[1]];
  const focalPx = Math.sqrt(at * (span - at));
  return knownCamera(line, centre, focalPx);
}

function parting(span, wished, focalPx) {
  const reach = Math.sqrt(Math.max((span * span) / 4 - focalPx * focalPx, 0));
  const [near, far] = [span / 2 - reach, span / 2 + reach];
  return Math.abs(far - wished) < Math.abs(near - wished) ? far : near;
}

/** Scaled to give how many px a point lies below it; null where it runs up the picture. */
export function pointingDown(line) {
  const scale = Math.hypot(line[0], line[1]);
  if (!line.every(Number.isFinite) || Math.abs(line[1]) <= STEEPEST * scale) return null;
  return line.map((v) => v / (line[1] > 0 ? scale : -scale));
}

function footOn(line, point) {
  const below = dot(line, [...point, 1]);
  return [point[0] - below * line[0], point[1] - below * line[1]];
}

const isFar = (point, diagonalPx) => !point || Math.abs(point[2]) * FARTHEST * diagonalPx <= Math.hypot(point[0], point[1]);

function levelDirections(points, focalPx, centre, down) {
  const found = points.map((point) => alongGround(rayOf(point, focalPx, centre), down)).filter(Boolean);
  const first = found[0] ?? alongGround([0, 0, 1], down) ?? [0, 0, 1];
  const second = found.slice(1).find((d) => Math.abs(dot(d, first)) < Math.cos(SQUARE_WITHIN)) ?? ahead(cross(down, first));
  return first[2] >= second[2] ? [first, second] : [second, first];
}

function alongGround(ray, down) {
  const fall = dot(ray, down);
  const level = ray.map((v, i) => v - fall * down[i]);
  return Math.sqrt(dot(level, level)) > 1e-9 * Math.sqrt(dot(ray, ray)) ? ahead(unit(level)) : null;
}

const ahead = (v) => (v[2] > 1e-9 || (v[2] >= -1e-9 && v[0] > 0) ? v : scaled(v, -1));
