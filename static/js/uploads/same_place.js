/** Several files for one page, stage and alternate: the newest is sent last, since the last one is what will be shown. */

/** @typedef {{file: {name: string, lastModified: number}, lane: string|number, state?: string}} Row */

const inOrder = (a, b) => (b.state === "sent") - (a.state === "sent") || a.file.lastModified - b.file.lastModified;

/** In the order they stand in, but for those of one page among themselves. @template {Row} T @param {T[]} rows @returns {T[]} */
export function newestLast(rows) {
  const lanes = new Map();
  for (const row of [...rows].sort(inOrder)) lanes.set(row.lane, [...(lanes.get(row.lane) ?? []), row]);
  return rows.map((row) => lanes.get(row.lane).shift());
}

/**
 * What is told of each that is not alone in its place.
 * @template {Row} T @param {T[]} rows @param {(row: T) => string} placeOf @returns {Map<T, {isFirst: boolean, words: string}>}
 */
export function sharedPlaces(rows, placeOf) {
  const places = new Map();
  for (const row of [...rows].sort(inOrder)) places.set(placeOf(row), [...(places.get(placeOf(row)) ?? []), row]);
  return new Map([...places.values()].filter((its) => its.length > 1).flatMap((its) => its.map((row, i) => [row, { isFirst: i === 0, words: told(its, i) }])));
}

function told(its, at) {
  const last = its.at(-1);
  if (its[at] !== last) return `${last.file.name} is for it too and is sent after it${isNewer(last, its[at])}: that one will be shown.`;
  const [before, ...more] = its.slice(0, -1).reverse();
  const others = more.length ? `${before.file.name} and ${more.length} more are` : `${before.file.name} is`;
  return `${others} for it too. This one is sent last${isNewer(last, before)}, and will be shown.`;
}

const isNewer = (last, before) => (last.file.lastModified > before.file.lastModified ? ", as the newer file" : "");
