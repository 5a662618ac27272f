// Of the picture's height. An eye level that lines show is right within 2 % nearly always.
const APART = 0.03;

/** The eye level in the middle of the picture, as a share of its height. */
function levelOf(numbers) {
  if (!numbers?.eye_level) return null;
  const [[x0, y0], [x1, y1]] = numbers.eye_level;
  return y0 + ((0.5 - x0) / (x1 - x0)) * (y1 - y0);
}

/** Where a given camera has another eye level than the still's own lines, in words. @param {{perspective: any, lines: any}} still */
export function partsFromLines({ perspective, lines }) {
  const [given, seen] = [perspective?.is_exact ? levelOf(perspective) : null, levelOf(lines)];
  if (given === null || seen === null || Math.abs(given - seen) < APART) return "";
  return `The lines show the eye level at ${Math.round(100 * seen)} % of the height, this camera at ${Math.round(100 * given)} %: a cut picture, or another pitch?`;
}
