/** Printers' marks: a region is held by four corner ticks that stand off from it, a point by a register mark. All in screen px. */

/**
 * @param {[number, number, number, number]} box left, top, right, bottom
 * @returns {string} an SVG path
 */
export function cropMarks([left, top, right, bottom], standOff = 4, length = 11) {
  const ticks = [];
  for (const [x, outX] of [[left, -1], [right, 1]])
    for (const [y, outY] of [[top, -1], [bottom, 1]]) {
      ticks.push(`M${round(x + outX * standOff)} ${round(y)}h${outX * length}`);
      ticks.push(`M${round(x)} ${round(y + outY * standOff)}v${outY * length}`);
    }
  return ticks.join("");
}

/** A ring with a cross through it. */
export function registerMark([x, y], radius = 6) {
  const reach = radius * 2;
  const ring = `M${round(x - radius)} ${round(y)}a${radius} ${radius} 0 1 0 ${2 * radius} 0a${radius} ${radius} 0 1 0 ${-2 * radius} 0`;
  return `${ring}M${round(x - reach)} ${round(y)}h${2 * reach}M${round(x)} ${round(y - reach)}v${2 * reach}`;
}

/** An outline as a closed path. @param {[number, number][]} points */
export const outline = (points) => `M${points.map(([x, y]) => `${round(x)} ${round(y)}`).join("L")}Z`;

/** From a note's edge along its margin, then straight to the spot. */
export const leader = ([fromX, fromY], turnX, [toX, toY]) =>
  `M${round(fromX)} ${round(fromY)}H${round(turnX)}L${round(toX)} ${round(toY)}`;

/** The point of a box that lies nearest. */
export const nearestOn = ([left, top, right, bottom], [x, y]) => [
  Math.min(right, Math.max(left, x)),
  Math.min(bottom, Math.max(top, y)),
];

const round = (v) => Math.round(v * 10) / 10;
