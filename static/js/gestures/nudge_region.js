import { bounds, boxBetween } from "../geometry/page_space.js";

const STEP = 0.01;
const LEAST = 0.01;

/**
 * A region moved by arrow keys, and sized by Shift with arrow keys; Alt takes smaller steps.
 * @param {{polygon: [number, number][]} | {point: [number, number]}} region
 * @returns {object|null} the new region, or null where the key means something else
 */
export function nudged(region, { key, shiftKey = false, altKey = false }) {
  const step = altKey ? STEP / 4 : STEP;
  const by = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, -step], ArrowDown: [0, step] }[key];
  if (!by) return null;
  if ("point" in region) return { point: region.point.map((v, i) => within(v + by[i])) };
  return shiftKey ? sized(region, by) : shifted(region, by);
}

/** Lines that are drawn with a region go where it goes. */
export function alongWith(lines, from, to) {
  const [before, after] = [from, to].map((region) => ("point" in region ? region.point : bounds(region.polygon)));
  const by = [after[0] - before[0], after[1] - before[1]];
  return lines.map((line) => ({ ...line, points: line.points.map((point) => point.map((v, i) => within(v + by[i]))) }));
}

function shifted({ polygon }, by) {
  const [left, top, right, bottom] = bounds(polygon);
  const dx = Math.max(-left, Math.min(1 - right, by[0]));
  const dy = Math.max(-top, Math.min(1 - bottom, by[1]));
  return { polygon: polygon.map(([x, y]) => [x + dx, y + dy]) };
}

/** The right and the lower edge move; the left and the upper stay. */
function sized({ polygon }, by) {
  const [left, top, right, bottom] = bounds(polygon);
  return { polygon: boxBetween([left, top], [Math.max(left + LEAST, within(right + by[0])), Math.max(top + LEAST, within(bottom + by[1]))]) };
}

const within = (v) => Math.min(1, Math.max(0, v));

/** Where a region lies on the page, in words, for who cannot see it. */
export function spoken(region) {
  const percent = (v) => `${Math.round(within(v) * 100)} %`;
  if ("point" in region) return `${percent(region.point[0])} from the left, ${percent(region.point[1])} from the top`;
  const [left, top, right, bottom] = bounds(region.polygon);
  return `from ${percent(left)} to ${percent(right)} across, ${percent(top)} to ${percent(bottom)} down`;
}
