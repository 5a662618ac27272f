/** One character's heads over the pages, laid out for a chart. Pure: no page, no server. */

const LEAST_SPAN = 1; // heads: a flat row of points is not blown up into a mountain range
const AIR = 0.15;

/**
 * @param {[number, number, number][]} heads page number, heads, one sigma
 * @param {number|null} onSheet heads as the model sheet has them
 * @returns {{points: {page: number, heads: number, x: number, y: number, low: number, high: number}[], sheet: number|null,
 *   pages: number[], ticks: {heads: number, y: number}[]}|null} x and y as shares of the chart, y down; null where nothing was measured
 */
export function layOutHeads(heads, onSheet) {
  if (!heads.length) return null;
  const pages = heads.map(([page]) => page);
  const [first, last] = [Math.min(...pages), Math.max(...pages)];
  const values = [...heads.flatMap(([, value, sigma]) => [value - 2 * sigma, value + 2 * sigma]), ...(onSheet ? [onSheet] : [])];
  const middle = (Math.min(...values) + Math.max(...values)) / 2;
  const span = Math.max(LEAST_SPAN, Math.max(...values) - Math.min(...values)) * (1 + AIR);
  const y = (value) => 0.5 - (value - middle) / span;
  const x = (page) => (last === first ? 0.5 : (page - first) / (last - first));
  return {
    points: heads.map(([page, value, sigma]) => ({ page, heads: value, x: x(page), y: y(value), low: y(value - 2 * sigma), high: y(value + 2 * sigma) })),
    sheet: onSheet ? y(onSheet) : null,
    pages: [...new Set(pages)].sort((a, b) => a - b),
    ticks: ticksBetween(middle - span / 2, middle + span / 2).map((at) => ({ heads: at, y: y(at) })),
  };
}

function ticksBetween(low, high) {
  const step = [0.5, 1, 2, 5, 10].find((one) => (high - low) / one <= 6) ?? 20;
  const first = Math.ceil(low / step);
  return Array.from({ length: Math.max(0, Math.floor(high / step) - first + 1) }, (_, k) => (first + k) * step);
}
