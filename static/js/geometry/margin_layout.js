/**
 * Where notes stand in the page's margin: each as near to the height of its spot as the others allow, in order, none over another.
 *
 * @typedef {{id: any, anchor: number, height: number, weight?: number}} Standing  `anchor`: the wished top; px
 */

/**
 * Least-squares placement (isotonic regression by pooling adjacent violators): a heavier note keeps its height and the others give way.
 * @param {Standing[]} notes
 * @param {{top?: number, bottom?: number, gap?: number}} room  `bottom` is kept only where everything fits above it
 * @returns {{tops: Map<any, number>, bottom: number}}
 */
export function standInMargin(notes, { top = 0, bottom = Number.POSITIVE_INFINITY, gap = 8 } = {}) {
  const inOrder = [...notes].sort((a, b) => a.anchor - b.anchor);
  const before = offsets(inOrder, gap);
  const needed = before[inOrder.length] - (inOrder.length ? gap : 0);
  const latest = Math.max(top, bottom - needed);
  const slots = pooled(inOrder.map((note, i) => ({ wish: note.anchor - before[i], weight: note.weight ?? 1 })));
  const tops = new Map();
  for (const [i, note] of inOrder.entries()) tops.set(note.id, Math.min(latest, Math.max(top, slots[i])) + before[i]);
  const last = inOrder.at(-1);
  return { tops, bottom: last ? tops.get(last.id) + last.height : top };
}

/** How much of the margin the notes before each one take; one more entry for all of them. */
function offsets(notes, gap) {
  const sums = [0];
  for (const note of notes) sums.push(sums.at(-1) + note.height + gap);
  return sums;
}

/** The nearest rising sequence to the wishes. */
function pooled(wishes) {
  const blocks = [];
  for (const { wish, weight } of wishes) {
    blocks.push({ mean: wish, weight, count: 1 });
    while (blocks.length > 1 && blocks.at(-2).mean > blocks.at(-1).mean) merge(blocks);
  }
  return blocks.flatMap(({ mean, count }) => Array(count).fill(mean));
}

function merge(blocks) {
  const later = blocks.pop();
  const block = blocks.at(-1);
  const weight = block.weight + later.weight;
  block.mean = (block.mean * block.weight + later.mean * later.weight) / weight;
  block.weight = weight;
  block.count += later.count;
}

/**
 * Which margin each note stands in: the nearer one, until that one is full while the other has room.
 * @param {{id: any, x: number, height: number}[]} notes  `x` 0..1 across the page
 * @param {number} room px of one margin
 * @returns {Map<any, "left"|"right">}
 */
export function chooseMargins(notes, room, gap = 8) {
  const sides = new Map(notes.map((note) => [note.id, note.x < 0.5 ? "left" : "right"]));
  const taken = (side) => notes.reduce((sum, note) => sum + (sides.get(note.id) === side ? note.height + gap : 0), 0);
  const fromMiddle = [...notes].sort((a, b) => Math.abs(a.x - 0.5) - Math.abs(b.x - 0.5));
  for (const note of fromMiddle) {
    const [here, there] = sides.get(note.id) === "left" ? ["left", "right"] : ["right", "left"];
    if (taken(here) > room && taken(there) + note.height + gap < taken(here)) sides.set(note.id, there);
  }
  return sides;
}
