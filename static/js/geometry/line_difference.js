/**
 * What differs between two drawings that lie on one another: lines that are gone, lines that are new, lines that stayed.
 * Lines are what is darker than the ground around it, so that light, paper and broad tones say nothing.
 *
 * @typedef {{width: number, height: number, data: Uint8ClampedArray}} Raster  RGBA
 */

/** Lines are looked for up to twice this wide, in px of the raster; drawings that lie within `SLACK_PX` of one another agree. */
const GROUND_PX = 6;
export const SLACK_PX = 3;
/** Fainter than this share of the drawing's own strong lines is grain. */
const FAINT = 0.18;
const GONE = [200, 58, 44];
const NEW = [24, 118, 158];
const STAYED = [110, 104, 96];

/** How dark the lines are, 0..1 of the drawing's own strong lines. @param {Raster} raster @returns {Float32Array} */
export function linesOf({ width, height, data }) {
  const light = new Float32Array(width * height);
  for (let i = 0; i < light.length; i++) {
    const seen = data[4 * i + 3] / 255;
    const value = 0.299 * data[4 * i] + 0.587 * data[4 * i + 1] + 0.114 * data[4 * i + 2];
    light[i] = seen * value + (1 - seen) * 255;
  }
  const ground = extreme(extreme(light, width, height, GROUND_PX, Math.max), width, height, GROUND_PX, Math.min);
  const depth = light.map((value, i) => ground[i] - value);
  const strong = Math.max(24, shareOf(depth, 0.97));
  return depth.map((value) => Math.min(1, value / strong));
}

/** The value that this share of all lies below. */
function shareOf(values, share) {
  const counts = new Uint32Array(256);
  for (const value of values) counts[Math.min(255, Math.max(0, Math.round(value)))]++;
  let [at, left] = [0, share * values.length];
  while (at < 255 && left > counts[at]) left -= counts[at++];
  return at;
}

/** The greatest (or least) value within `reach` px each way: two passes of a running window (van Herk 1992). */
export function extreme(values, width, height, reach, pick) {
  const across = new Float32Array(values.length);
  for (let y = 0; y < height; y++) runOver(values, across, y * width, 1, width, reach, pick);
  const result = new Float32Array(values.length);
  for (let x = 0; x < width; x++) runOver(across, result, x, width, height, reach, pick);
  return result;
}

function runOver(values, result, start, step, count, reach, pick) {
  const span = 2 * reach + 1;
  const [upTo, from] = [new Float32Array(count), new Float32Array(count)];
  for (let i = 0; i < count; i++) upTo[i] = i % span ? pick(upTo[i - 1], values[start + i * step]) : values[start + i * step];
  for (let i = count - 1; i >= 0; i--)
    from[i] = i === count - 1 || (i + 1) % span === 0 ? values[start + i * step] : pick(from[i + 1], values[start + i * step]);
  for (let i = 0; i < count; i++) {
    const [low, high] = [Math.max(0, i - reach), Math.min(count - 1, i + reach)];
    result[start + i * step] = pick(from[low], upTo[high]);
    // At the rim the window is cut short and may lie within one block.
    if (Math.floor(low / span) === Math.floor(high / span)) result[start + i * step] = rim(values, start, step, low, high, pick);
  }
}

function rim(values, start, step, low, high, pick) {
  let best = values[start + low * step];
  for (let k = low + 1; k <= high; k++) best = pick(best, values[start + k * step]);
  return best;
}

/**
 * @param {Raster} before @param {Raster} after of one size; where `before` is clear, its sheet does not reach
 * @returns {Raster & {gone: number, isNew: number, stayed: number}} a picture, and shares of all lines
 */
export function differenceOf(before, after) {
  const { width, height } = after;
  const [older, newer] = [linesOf(before), linesOf(after)];
  const [nearOlder, nearNewer] = [older, newer].map((lines) => extreme(lines, width, height, SLACK_PX, Math.max));
  const data = new Uint8ClampedArray(4 * width * height).fill(255);
  const sums = [0, 0, 0];
  for (let i = 0; i < older.length; i++) {
    const isSeen = before.data[4 * i + 3] > 250;
    const gone = isSeen ? clear(older[i] - 1.6 * nearNewer[i]) : 0;
    const isNew = isSeen ? clear(newer[i] - 1.6 * nearOlder[i]) : 0;
    const stayed = clear(Math.max(older[i], newer[i])) * (1 - Math.max(gone, isNew)) * 0.55;
    paint(data, i, [[gone, GONE], [isNew, NEW], [stayed, STAYED]]);
    for (const [k, value] of [gone, isNew, stayed].entries()) sums[k] += value;
  }
  const all = Math.max(1, sums[0] + sums[1] + sums[2]);
  return { width, height, data, gone: sums[0] / all, isNew: sums[1] / all, stayed: sums[2] / all };
}

const clear = (value) => Math.min(1, Math.max(0, (value - FAINT) / (0.6 - FAINT)));

function paint(data, i, inks) {
  for (const [share, ink] of inks) for (const k of [0, 1, 2]) data[4 * i + k] += share * (ink[k] - data[4 * i + k]);
}
