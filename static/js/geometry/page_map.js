/**
 * Where each point of a revision has gone on a later one. The twin of `PageRegistration.map_points`; both are run over one table of
 * vectors. Points are continuous pixels of the uploaded pictures, except in `mapOfSteps`, which takes and gives page coordinates.
 *
 * @typedef {[number, number]} Point
 * @typedef {{size_before: Point, size_after: Point, H_before_to_after: number[][], local_shifts: number[][][], quality: number}} Step
 */

/** The plane transform, then the small local shift there. @param {Step} step @param {Point} point @returns {Point} */
export function mapPoint(step, point) {
  const laid = through(step.H_before_to_after, point);
  const [dx, dy] = shiftAt(step.local_shifts, step.size_after, laid);
  return [laid[0] + dx, laid[1] + dy];
}

/** @param {number[][]} H @param {Point} point @returns {Point} */
export function through(H, [x, y]) {
  const [u, v, w] = H.map((row) => row[0] * x + row[1] * y + row[2]);
  return [u / w, v / w];
}

/** Of a uniform cubic B-spline over the picture; the first node lies one spacing outside, and beyond the rim the shift stays. */
export function shiftAt(nodes, [width, height], [x, y]) {
  const down = splineWeights(y / height, nodes.length);
  const across = splineWeights(x / width, nodes[0].length);
  const shift = [0, 0];
  for (const [r, inRow] of down)
    for (const [c, inColumn] of across) for (const k of [0, 1]) shift[k] += inRow * inColumn * nodes[r][c][k];
  return shift;
}

/** The nodes that have a say at a share 0..1 of the picture, each with its weight: at most four. @returns {[number, number][]} */
export function splineWeights(share, count) {
  const place = Math.min(1, Math.max(0, share)) * (count - 3);
  const first = Math.min(count - 4, Math.floor(place));
  return [0, 1, 2, 3]
    .filter((k) => first + k >= 0 && first + k < count)
    .map((k) => [first + k, cubic(Math.abs(place + 1 - first - k))]);
}

const cubic = (d) => (d < 1 ? 2 / 3 - d * d + (d * d * d) / 2 : (2 - Math.min(d, 2)) ** 3 / 6);

/** Several maps one after the other, from page coordinates of the first picture to those of the last. @param {Step[]} steps */
export function mapOfSteps(steps) {
  return (point) =>
    steps.reduce((at, step) => {
      const [x, y] = mapPoint(step, [at[0] * step.size_before[0], at[1] * step.size_before[1]]);
      return [x / step.size_after[0], y / step.size_after[1]];
    }, point);
}

/** How much the two have in common over all steps, 0..1. @param {Step[]} steps */
export const qualityOf = (steps) => steps.reduce((least, step) => Math.min(least, step.quality), 1);
