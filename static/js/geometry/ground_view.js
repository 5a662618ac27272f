/**
 * One camera over its ground. With `view_of_points.js` the twin of `board/ground_view.py`; both are
 * run over one table of vectors. Px, y down; camera axes x right, y down, z ahead. What cannot be told is `{reason}`.
 *
 * @typedef {[number, number]} Point
 * @typedef {[number, number, number]} Vector
 */
import { dot, scaled } from "./vectors.js";

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

export const rayOf = (point, focalPx, centre) => [(point[0] - centre[0] * point[2]) / focalPx, (point[1] - centre[1] * point[2]) / focalPx, point[2]];
