/**
 * A photographed page laid flat for a look, as `board/vision/straightening.py` does it for good.
 *
 * @typedef {[number, number]} Point
 */

// Focal lengths of cameras that photograph pages, in long sides of the picture.
const [SHORTEST, USUAL, LONGEST] = [0.5, 0.85, 4];
const FLAT = 1e-3;

/** The map from shares of the flat page to those of its photograph: a unit square seen from a slant. @param {Point[]} corners clockwise from the upper left */
export function fromFlat([[x0, y0], [x1, y1], [x2, y2], [x3, y3]]) {
  const [dx1, dx2, dx3] = [x1 - x2, x3 - x2, x0 - x1 + x2 - x3];
  const [dy1, dy2, dy3] = [y1 - y2, y3 - y2, y0 - y1 + y2 - y3];
  const whole = dx1 * dy2 - dx2 * dy1;
  const [g, k] = [(dx3 * dy2 - dx2 * dy3) / whole, (dx1 * dy3 - dx3 * dy1) / whole];
  const [a, b, d, e] = [x1 - x0 + g * x1, x3 - x0 + k * x3, y1 - y0 + g * y1, y3 - y0 + k * y3];
  /** @param {Point} point @returns {Point} */
  return ([u, v]) => {
    const w = g * u + k * v + 1;
    return [(a * u + b * v + x0) / w, (d * u + e * v + y0) / w];
  };
}

/** Width over height of the flat page (Zhang and He, 2007), the camera's axis through the middle of the photograph. @param {{width: number, height: number}} photo */
export function ratioOfFlat(corners, photo) {
  const longest = Math.max(photo.width, photo.height);
  const [m1, m2, m4, m3] = corners.map(([x, y]) => [((x - 0.5) * photo.width) / longest, ((y - 0.5) * photo.height) / longest, 1]);
  const k2 = dot(cross(m1, m4), m3) / dot(cross(m2, m4), m3);
  const k3 = dot(cross(m1, m4), m2) / dot(cross(m3, m4), m2);
  const [across, down] = [m2.map((v, i) => k2 * v - m1[i]), m3.map((v, i) => k3 * v - m1[i])];
  const focal = focalOf(across, down);
  const size = ([x, y, z]) => (x * x + y * y) / focal ** 2 + z * z;
  return Math.sqrt(size(across) / size(down));
}

function focalOf(across, down) {
  if (Math.abs(across[2]) < FLAT || Math.abs(down[2]) < FLAT) return USUAL;
  const squared = -(across[0] * down[0] + across[1] * down[1]) / (across[2] * down[2]);
  return squared > 0 ? Math.min(LONGEST, Math.max(SHORTEST, Math.sqrt(squared))) : USUAL;
}

const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
