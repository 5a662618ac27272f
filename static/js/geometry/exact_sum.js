/**
 * The exactly rounded sum (Shewchuk 1997), as Python's math.fsum: whether an outline encloses anything must not depend on the language.
 * @param {number[]} values
 * @returns {number}
 */
export function exactSum(values) {
  /** @type {number[]} */
  let partials = [];
  for (const value of values) partials = withAdded(partials, value);
  return partials.reduceRight((sum, part) => sum + part, 0);
}

function withAdded(partials, value) {
  const kept = [];
  let x = value;
  for (const part of partials) {
    const [large, small] = Math.abs(x) < Math.abs(part) ? [part, x] : [x, part];
    const sum = large + small;
    const lost = small - (sum - large);
    if (lost !== 0) kept.push(lost);
    x = sum;
  }
  return [...kept, x];
}
