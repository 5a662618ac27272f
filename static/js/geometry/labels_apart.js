const LETTER_PX = 7.7; // 0.8rem of the figures' typeface, whose letters are all as wide
const LINE_PX = 16;

/**
 * Where labels stand so that each is read: inside the box, and below one that would stand in its place.
 * @param {{text: string, at: [number, number]}[]} labels where each would begin, on its base line
 * @param {[number, number, number, number]} box left, top, right, bottom
 * @returns {[number, number][]}
 */
export function labelsApart(labels, [left, , right]) {
  const stand = [];
  for (const { text, at } of labels) {
    const width = text.length * LETTER_PX;
    const x = Math.max(left, Math.min(right - width, at[0]));
    let y = at[1];
    for (const [otherX, otherY, otherWidth] of [...stand].sort((a, b) => a[1] - b[1]))
      if (x < otherX + otherWidth && otherX < x + width && Math.abs(otherY - y) < LINE_PX) y = otherY + LINE_PX;
    stand.push([x, y, width]);
  }
  return stand.map(([x, y]) => [x, y]);
}
