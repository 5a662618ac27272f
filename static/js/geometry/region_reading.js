/** A region as the server reads it: with `page_space.js`, the twin of `board/page_space.py`, run over the same table of vectors. */
import { area } from "./page_space.js";

export const OVERHANG = 0.02;
export const MOST_CORNERS = 500;
const SHAPE = 'A region is {"polygon": [[x, y], …]} or {"point": [x, y]}.';

/** A region as people draw it, checked and made plain. Throws RangeError with the sentence that people read. */
export function readRegion(region) {
  if (typeof region !== "object" || region === null || Array.isArray(region) || Object.keys(region).length !== 1)
    throw new RangeError(SHAPE);
  if ("point" in region) return { point: readPoint(region.point) };
  if (!Array.isArray(region.polygon)) throw new RangeError(SHAPE);
  if (region.polygon.length < 3 || region.polygon.length > MOST_CORNERS)
    throw new RangeError(`An outline has 3 to ${MOST_CORNERS} corners.`);
  const polygon = region.polygon.map(readPoint);
  if (area(polygon) === 0) throw new RangeError("An outline has to enclose something.");
  return { polygon };
}

function readPoint(point) {
  if (!Array.isArray(point) || point.length !== 2) throw new RangeError("A point is a pair of numbers [x, y].");
  if (!point.every(Number.isFinite)) throw new RangeError("A point is a pair of finite numbers [x, y].");
  if (!point.every((v) => v >= -OVERHANG && v <= 1 + OVERHANG))
    throw new RangeError("Page coordinates run from 0 to 1 across the picture.");
  return point.map((v) => Math.min(1, Math.max(0, v)));
}
