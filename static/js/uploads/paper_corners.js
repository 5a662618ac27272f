// Half the width of the thickest line that counts as drawn.
const LINE_PX = 2;
const LEAST_CONTRAST = 40;
// Of the way to the sheet's middle. A strip of the table left beside the paper, narrower than what is looked at here, hides how the
// light falls over it, and is taken for a panel's border.
const INWARDS = 0.01;

/**
 * Where a sheet of paper lies on a photograph, at a first guess: the largest bright patch, and its corners.
 * @param {ArrayLike<number>} gray width × height, 0 black to 255 white
 * @returns {[number, number][]|null} page coordinates, clockwise from the upper left; null where no paper stands out
 */
export function paperCorners(gray, width, height) {
  const closed = withoutLines(gray, width, height);
  const patch = largestPatch(closed, width, height, brightnessThatParts(closed) ?? 255);
  const share = patch.length / (width * height);
  if (share < 0.12 || share > 0.97) return null;
  const best = (score) => patch.reduce((one, other) => (score(other) > score(one) ? other : one));
  const at = (i) => [i % width, Math.floor(i / width)];
  const corners = [[-1, -1], [1, -1], [1, 1], [-1, 1]].map(([dx, dy]) => at(best((i) => dx * (i % width) + dy * Math.floor(i / width))));
  // A pixel's far edge belongs to it too.
  const edges = corners.map(([x, y], k) => [(x + (k === 1 || k === 2 ? 1 : 0)) / width, (y + (k > 1 ? 1 : 0)) / height]);
  const middle = [0, 1].map((axis) => edges.reduce((sum, corner) => sum + corner[axis] / 4, 0));
  return goesRound(edges) ? edges.map((corner) => corner.map((v, axis) => v + INWARDS * (middle[axis] - v))) : null;
}

/** Whether the corners go round the page once, clockwise on screen. @param {[number, number][]} corners */
export const goesRound = (corners) => corners.every((a, i) => {
  const [b, c] = [corners[(i + 1) % 4], corners[(i + 2) % 4]];
  return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]) > 0;
});

/** What is drawn goes, the paper stays: the brightest of the neighbours, then the darkest of those, across and down. */
function withoutLines(gray, width, height) {
  const along = (cells, step, place, length, pick) => cells.map((_, i) => {
    let found = cells[i];
    for (let k = -LINE_PX; k <= LINE_PX; k++) if (place(i) + k >= 0 && place(i) + k < length) found = pick(found, cells[i + k * step]);
    return found;
  });
  const [x, y] = [(i) => i % width, (i) => Math.floor(i / width)];
  const both = (cells, pick) => along(along(cells, 1, x, width, pick), width, y, height, pick);
  return both(both(Float32Array.from(gray), Math.max), Math.min);
}

/** The brightness that parts dark from light best (Otsu, 1979); null where both are much alike. */
function brightnessThatParts(gray) {
  const counts = new Array(256).fill(0);
  for (let i = 0; i < gray.length; i++) counts[Math.round(gray[i])] += 1;
  const total = counts.reduce((sum, n, v) => sum + n * v, 0);
  let [below, sumBelow, best, bestGain, contrast] = [0, 0, 127, -1, 0];
  counts.forEach((n, v) => {
    below += n;
    sumBelow += n * v;
    const above = gray.length - below;
    if (!below || !above) return;
    const between = (total - sumBelow) / above - sumBelow / below;
    const gain = below * above * between ** 2;
    if (gain > bestGain) [best, bestGain, contrast] = [v, gain, between];
  });
  return contrast < LEAST_CONTRAST ? null : best;
}

/** Indices of the largest connected patch of pixels brighter than that. */
function largestPatch(gray, width, height, threshold) {
  const seen = new Uint8Array(gray.length);
  let largest = [];
  for (let start = 0; start < gray.length; start++) {
    if (seen[start] || gray[start] <= threshold) continue;
    const patch = [start];
    seen[start] = 1;
    for (let next = 0; next < patch.length; next++) {
      const [x, y] = [patch[next] % width, Math.floor(patch[next] / width)];
      for (const [nx, ny] of [[x - 1, y], [x + 1, y], [x, y - 1], [x, y + 1]]) {
        const i = ny * width + nx;
        if (nx < 0 || ny < 0 || nx >= width || ny >= height || seen[i] || gray[i] <= threshold) continue;
        seen[i] = 1;
        patch.push(i);
      }
    }
    if (patch.length > largest.length) largest = patch;
  }
  return largest;
}
