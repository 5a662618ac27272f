/** Vectors of three: directions, homogeneous points and lines. */

export const scaled = (v, by) => v.map((x) => x * by);
export const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
export const unit = (v) => scaled(v, 1 / Math.sqrt(dot(v, v)));
export const sum = (...vectors) => vectors.reduce((a, b) => a.map((v, i) => v + b[i]));

/** Scaled so that it gives distances; null for the line at infinity and for no line at all. */
export function unitLine(line) {
  const length = Math.hypot(line[0], line[1]);
  return Number.isFinite(length) && length > 1e-12 * Math.abs(line[2]) ? scaled(line, 1 / length) : null;
}
