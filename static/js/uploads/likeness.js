/**
 * How alike two pictures are, at a glance: where the ink lies, on a small grid, whatever the line. A redrawn page keeps its frames and
 * its large shapes.
 */
export const GRID = 32;
const SHIFTS = [-1, 0, 1];

/**
 * @typedef {{cells: Float32Array, aspect: number}} Glance
 * @param {ArrayLike<number>} gray GRID × GRID, 0 black to 255 white @param {number} aspect width over height of the whole picture
 * @returns {Glance|null} null of a picture with nothing on it
 */
export function glanceOf(gray, aspect) {
  const ink = Float32Array.from({ length: GRID * GRID }, (_, i) => 255 - gray[i]);
  const soft = softened(ink);
  const mean = soft.reduce((sum, v) => sum + v, 0) / soft.length;
  const spread = Math.sqrt(soft.reduce((sum, v) => sum + (v - mean) ** 2, 0));
  return spread < 1 ? null : { cells: soft.map((v) => (v - mean) / spread), aspect };
}

/** Each cell with its eight neighbours: a line that is drawn a little off still meets itself. */
function softened(cells) {
  const at = (x, y) => cells[Math.min(GRID - 1, Math.max(0, y)) * GRID + Math.min(GRID - 1, Math.max(0, x))];
  return cells.map((_, i) => {
    const [x, y] = [i % GRID, Math.floor(i / GRID)];
    let sum = 0;
    for (const dy of SHIFTS) for (const dx of SHIFTS) sum += at(x + dx, y + dy) * (dx || dy ? 1 : 2);
    return sum / 10;
  });
}

/** -1 to 1: correlation at the best of nine small shifts; pictures of another shape are less alike. @param {Glance} a @param {Glance} b */
export function likeness(a, b) {
  const best = Math.max(...SHIFTS.flatMap((dy) => SHIFTS.map((dx) => shifted(a.cells, b.cells, dx, dy))));
  return best * Math.min(1, 1.15 * (Math.min(a.aspect, b.aspect) / Math.max(a.aspect, b.aspect)));
}

function shifted(a, b, dx, dy) {
  let sum = 0;
  for (let y = Math.max(0, dy); y < GRID + Math.min(0, dy); y++)
    for (let x = Math.max(0, dx); x < GRID + Math.min(0, dx); x++) sum += a[y * GRID + x] * b[(y - dy) * GRID + x - dx];
  return sum;
}

// Below, two pictures may be strangers; and the best has to stand out from the next.
const ALIKE = 0.45;
const STANDS_OUT = 0.06;

/**
 * Pairs that are each other's best and stand out.
 * @param {(Glance|null)[]} files @param {(Glance|null)[]} pages @returns {({page: number, likeness: number}|null)[]} index of the page
 */
export function alikePairs(files, pages) {
  const table = files.map((file) => pages.map((page) => (file && page ? likeness(file, page) : -1)));
  return table.map((row, i) => {
    const [best, next] = topTwo(row);
    const rivals = table.map((other) => other[best]);
    const isMine = row[best] >= Math.max(...rivals) && row[best] - next >= STANDS_OUT;
    return best >= 0 && row[best] >= ALIKE && isMine ? { page: best, likeness: table[i][best] } : null;
  });
}

/** Index of the largest, and the value of the one after it. */
function topTwo(row) {
  const order = row.map((_, i) => i).sort((a, b) => row[b] - row[a]);
  return [order[0] ?? -1, order.length > 1 ? row[order[1]] : -1];
}
