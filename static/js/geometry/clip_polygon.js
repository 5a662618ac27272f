import { dot, unitLine } from "./vectors.js";

const LEAST_SEEN_PX = 0.1;

/** The parts of a line that lie inside a polygon, which may be hollow; a line that only touches has none. */
export function clipToPolygon(line, polygon) {
  const unit = unitLine(line);
  if (!unit) return [];
  const crossings = polygon.flatMap((start, i) => {
    const end = polygon[(i + 1) % polygon.length];
    const [first, second] = [dot(unit, [...start, 1]), dot(unit, [...end, 1])];
    if (first > 0 === second > 0) return [];
    const point = between(start, end, first / (first - second));
    return [{ along: point[0] * unit[1] - point[1] * unit[0], point }];
  });
  crossings.sort((a, b) => a.along - b.along);
  const pairs = crossings.flatMap((one, i) => (i % 2 ? [] : [[one, crossings[i + 1]]]));
  return pairs.filter(([from, to]) => to.along - from.along > LEAST_SEEN_PX).map(([from, to]) => [from.point, to.point]);
}

export function clipToSide([start, end], facing) {
  const [first, second] = [start, end].map((point) => dot(facing, [...point, 1]));
  if (first <= 0 && second <= 0) return null;
  if (first > 0 && second > 0) return [start, end];
  const cut = between(start, end, first / (first - second));
  return first > 0 ? [start, cut] : [cut, end];
}

const between = (a, b, share) => [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
