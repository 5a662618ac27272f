/**
 * The camera over its ground that a panel's eye level and vanishing points stand for. The twin of `board/ground_view.py`; both are
 * run over one table of vectors. Px, y down; camera axes x right, y down, z ahead. What cannot be told is `{reason}`.
 *
 * @typedef {[number, number]} Point
 * @typedef {[number, number, number]} Vector
 */
import { cross, dot, scaled, unit } from "./vectors.js";

const STEEPEST = 0.2;
const FARTHEST = 50;
const CONE = Math.PI / 3;
const SQUARE_WITHIN = Math.PI / 9;
const LEAST_PX = 1e-6;

export class GroundView {
  /** Lengths along the ground are in the unit of `eyeHeight`: metres where `isMeasured`, else eye heights. */
  constructor({ centre, focalPx, down, level, eyeHeight = 1, isMeasured = false, focalIsAssumed = false }) {
    Object.assign(this, { centre, focalPx, down, level, eyeHeight, isMeasured, focalIsAssumed });
  }

  /** a, b, c: how many px a point lies below the eye level. */
  get horizon() {
    const [a, b, z] = this.down;
    const line = [a / this.focalPx, b / this.focalPx, z - (a * this.centre[0] + b * this.centre[1]) / this.focalPx];
    return scaled(line, 1 / Math.hypot(line[0], line[1]));
  }

  /** The homogeneous point where uprights meet. */
  get upright() {
    return this.seen(this.down);
  }

  /** The homogeneous point at which something is seen; with w <= 0 it is not before the eye. @param {Vector} vector */
  seen([x, y, z]) {
    return [this.focalPx * x + this.centre[0] * z, this.focalPx * y + this.centre[1] * z, z];
  }

  /** Where on the ground, from the eye, the picture's point lies. @param {Point} point */
  floorAt(point) {
    const below = dot(this.horizon, [...point, 1]);
    if (!Number.isFinite(below) || below < LEAST_PX)
      return { reason: "This point does not lie below the eye level: the floor is not seen there." };
    return this.onLevel(point);
  }

  /** The same for a point of the floor, or of a ceiling as far above the eye as the floor is below it. */
  onLevel(point) {
    const ray = rayOf([...point, 1], this.focalPx, this.centre);
    return scaled(ray, this.eyeHeight / Math.abs(dot(ray, this.down)));
  }
}

/** @returns {GroundView | {reason: string}} see the Python twin for what is taken */
export function groundView({ horizon, level, upright, middle, diagonalPx, focalPx = null, eyeHeightM = null }) {
  const line = pointingDown(horizon);
  if (!line || ![...middle, diagonalPx].every(Number.isFinite) || diagonalPx <= 0)
    return { reason: "The eye level is not known, or runs up the picture." };
  if (eyeHeightM !== null && !(Number.isFinite(eyeHeightM) && eyeHeightM > 0))
    return { reason: "The viewer's eye has to be above the ground." };
  const given = Number.isFinite(focalPx) && focalPx > 0 ? focalPx : null;
  const points = level.filter((point) => point.every(Number.isFinite) && point.some(Boolean));
  const placed = isFar(upright, diagonalPx)
    ? levelCamera(line, footOn(line, middle), points, diagonalPx, given)
    : tiltedCamera(line, [upright[0] / upright[2], upright[1] / upright[2]], middle, given);
  if (!placed) return { reason: "The uprights meet on the eye level: no floor can be laid." };
  const directions = levelDirections(points, placed.focalPx, placed.centre, placed.down);
  return new GroundView({ ...placed, level: directions, eyeHeight: eyeHeightM ?? 1, isMeasured: eyeHeightM !== null });
}

function levelCamera(line, centre, points, diagonalPx, given) {
  const shown = given ?? focalOfLevelPoints(points, centre, line, diagonalPx);
  const focalPx = shown ?? diagonalPx / 2 / Math.tan(CONE / 2);
  return { centre, focalPx, down: [line[0], line[1], 0], focalIsAssumed: shown === null };
}

/** The centre parts the way from the uprights' point straight to the eye level in two: their product is f². */
function tiltedCamera(line, upright, middle, given) {
  const foot = footOn(line, upright);
  const span = Math.hypot(upright[0] - foot[0], upright[1] - foot[1]);
  if (span < LEAST_PX) return null;
  const way = [(upright[0] - foot[0]) / span, (upright[1] - foot[1]) / span];
  const wished = (middle[0] - foot[0]) * way[0] + (middle[1] - foot[1]) * way[1];
  const reach = given === null ? 0 : Math.sqrt(Math.max((span * span) / 4 - given * given, 0));
  const [near, far] = [span / 2 - reach, span / 2 + reach];
  const at = given === null ? Math.min(Math.max(wished, 0.02 * span), 0.98 * span) : Math.abs(far - wished) < Math.abs(near - wished) ? far : near;
  const centre = [foot[0] + at * way[0], foot[1] + at * way[1]];
  const focalPx = Math.sqrt(at * (span - at));
  return { centre, focalPx, down: unit([line[0] * focalPx, line[1] * focalPx, dot(line, [...centre, 1])]), focalIsAssumed: false };
}

function pointingDown(line) {
  const scale = Math.hypot(line[0], line[1]);
  if (!line.every(Number.isFinite) || Math.abs(line[1]) <= STEEPEST * scale) return null;
  return line.map((v) => v / (line[1] > 0 ? scale : -scale));
}

function footOn(line, point) {
  const below = dot(line, [...point, 1]);
  return [point[0] - below * line[0], point[1] - below * line[1]];
}

const isFar = (point, diagonalPx) => !point || Math.abs(point[2]) * FARTHEST * diagonalPx <= Math.hypot(point[0], point[1]);

function focalOfLevelPoints(points, foot, line, diagonalPx) {
  const near = points.slice(0, 2).filter((point) => !isFar(point, diagonalPx));
  if (near.length < 2) return null;
  const [first, second] = near.map((p) => (p[0] / p[2] - foot[0]) * line[1] - (p[1] / p[2] - foot[1]) * line[0]);
  return -first * second > LEAST_PX ? Math.sqrt(-first * second) : null;
}

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

const rayOf = (point, focalPx, centre) => [(point[0] - centre[0] * point[2]) / focalPx, (point[1] - centre[1] * point[2]) / focalPx, point[2]];
const ahead = (v) => (v[2] > 1e-9 || (v[2] >= -1e-9 && v[0] > 0) ? v : scaled(v, -1));
