/**
 * A picture bent by any map, as a mesh of triangles that are each sheared and stretched: fine enough, nobody sees the facets.
 *
 * @typedef {[number, number]} Point
 * @typedef {{from: Point[], to: Point[]}} Triangle  three corners before and after
 */

/**
 * @param {(point: Point) => Point} map from shares 0..1 of the one picture to shares of the other
 * @param {{width: number, height: number}} from px of the picture that is bent
 * @param {{width: number, height: number}} to px of what it is drawn into
 * @returns {Triangle[]}
 */
export function meshOf(map, from, to, columns = 20, rows = 28) {
  const corners = grid(columns, rows).map((line) =>
    line.map((share) => {
      const [x, y] = map(share);
      return { from: [share[0] * from.width, share[1] * from.height], to: [x * to.width, y * to.height] };
    }));
  const triangles = [];
  for (let r = 0; r < rows; r++)
    for (let c = 0; c < columns; c++) {
      const [a, b, d, e] = [corners[r][c], corners[r][c + 1], corners[r + 1][c], corners[r + 1][c + 1]];
      triangles.push(triangle(a, b, e), triangle(a, e, d));
    }
  return triangles;
}

const grid = (columns, rows) =>
  Array.from({ length: rows + 1 }, (_, r) => Array.from({ length: columns + 1 }, (_, c) => [c / columns, r / rows]));

const triangle = (...corners) => ({ from: corners.map((one) => one.from), to: corners.map((one) => one.to) });

/** The affine transform (a, b, c, d, e, f) of a canvas that lays `from` on `to`; null where `from` encloses nothing. */
export function affineOf({ from, to }) {
  const [[x0, y0], [x1, y1], [x2, y2]] = from;
  const twice = (x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0);
  if (twice === 0) return null;
  const slope = (axis) => {
    const [u, v] = [to[1][axis] - to[0][axis], to[2][axis] - to[0][axis]];
    return [(u * (y2 - y0) - v * (y1 - y0)) / twice, (v * (x1 - x0) - u * (x2 - x0)) / twice];
  };
  const [[a, c], [b, d]] = [slope(0), slope(1)];
  return [a, b, c, d, to[0][0] - a * x0 - c * y0, to[0][1] - b * x0 - d * y0];
}

/** The corners moved out from their middle, so that neighbours overlap and no seam shows. @param {Point[]} corners */
export function grown(corners, byPx = 0.8) {
  const middle = [0, 1].map((axis) => corners.reduce((sum, corner) => sum + corner[axis], 0) / corners.length);
  return corners.map(([x, y]) => {
    const away = Math.hypot(x - middle[0], y - middle[1]) || 1;
    return [x + ((x - middle[0]) / away) * byPx, y + ((y - middle[1]) / away) * byPx];
  });
}
