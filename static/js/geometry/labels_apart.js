const LETTER_PX = 8.2; // 0.8rem of the figures' typeface, whose letters are all as wide: 7.7, drawn as 8 where letters stand on whole pixels
const LINE_PX = 16;
const RIM_PX = 3; // of paper around the letters
const ABOVE_PX = 12; // of a line, over its base line

/**
 * Where labels stand so that each is read: inside the box, and below one that would stand in its place; above it at the lower edge.
 * @param {{text: string, at: [number, number]}[]} labels where each would begin, on its base line
 * @param {[number, number, number, number]} box left, top, right, bottom
 * @returns {[number, number][]}
 */
export function labelsApart(labels, [left, top, right, bottom]) {
  const stand = [];
  const [highest, lowest] = [top + ABOVE_PX + RIM_PX, bottom - RIM_PX];
  for (const { text, at } of labels) {
    const width = text.length * LETTER_PX;
    const x = Math.max(left + RIM_PX, Math.min(right - RIM_PX - width, at[0]));
    const beside = stand.filter(([otherX, , otherWidth]) => x < otherX + otherWidth && otherX < x + width).map(([, otherY]) => otherY);
    const wished = Math.max(highest, Math.min(lowest, at[1]));
    const below = free(wished, beside, 1);
    stand.push([x, below > lowest ? free(wished, beside, -1) : below, width]);
  }
  return stand.map(([x, y]) => [x, y]);
}

/** The next base line that way on which no other stands. */
function free(wished, others, way) {
  let y = wished;
  for (const other of [...others].sort((a, b) => way * (a - b))) if (Math.abs(other - y) < LINE_PX) y = other + way * LINE_PX;
  return y;
}
