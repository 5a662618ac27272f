/**
 * The part of a line that lies in a box (Liang and Barsky 1984), and whether either end was cut off.
 * @param {[number, number]} from
 * @param {[number, number]} to
 * @param {[number, number, number, number]} box left, top, right, bottom
 * @returns {{from: [number, number], to: [number, number], fromIsCut: boolean, toIsCut: boolean} | null} null where none of it shows
 */
export function clipLine(from, to, [left, top, right, bottom]) {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  let [start, end] = [0, 1];
  const sides = [[-dx, from[0] - left], [dx, right - from[0]], [-dy, from[1] - top], [dy, bottom - from[1]]];
  for (const [step, room] of sides) {
    if (step === 0 && room < 0) return null;
    if (step < 0) start = Math.max(start, room / step);
    if (step > 0) end = Math.min(end, room / step);
  }
  if (start > end) return null;
  const at = (t) => [from[0] + t * dx, from[1] + t * dy];
  return { from: at(start), to: at(end), fromIsCut: start > 0, toIsCut: end < 1 };
}

/** An arrow head at `tip`, pointing away from `tail`, as an SVG path. */
export function arrowHead(tail, tip, size = 7) {
  const angle = Math.atan2(tip[1] - tail[1], tip[0] - tail[0]);
  const barb = (turn) => [tip[0] - size * Math.cos(angle + turn), tip[1] - size * Math.sin(angle + turn)].map((v) => v.toFixed(1));
  return `M${barb(0.45).join(" ")}L${tip.map((v) => v.toFixed(1)).join(" ")}L${barb(-0.45).join(" ")}`;
}
