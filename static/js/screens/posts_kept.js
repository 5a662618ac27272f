import { keepPosts } from "../api/figures.js";
import { attempt } from "../elements/slips.js";
import { bounds } from "../geometry/page_space.js";
import { load } from "./desk_load.js";
import { keptOn } from "./posts_model.js";

/** Panels as this screen left them last: an answer that set out before a change was kept does not undo it. */
const queue = { last: Promise.resolve(), waiting: 0, mine: new Map() };

/** Shown at once. One change after the other, so that each names the version before it. */
export function keep(state, panel, change) {
  const fields = { posts: keptOn(panel), eye_height_m: panel.row.figure_posts?.eye_height_m ?? null, ...change };
  const revision = state.known.revision.id;
  queue.waiting += 1;
  put(state, { ...panel.row, figure_posts: { ...fields, bounds: bounds(panel.polygon) } });
  queue.last = queue.last.then(async () => {
    const row = await attempt(() => keepPosts(queue.mine.get(panel.id) ?? panel.row, { ...fields, revision }));
    queue.waiting -= 1;
    if (row) return put(state, queue.waiting ? { ...row, figure_posts: queue.mine.get(panel.id).figure_posts } : row);
    queue.mine.clear();
    return load(state, ["panels"]);
  });
  return queue.last;
}

function put(state, changed) {
  const row = { ...changed, version: Math.max(changed.version, queue.mine.get(changed.id)?.version ?? 0) };
  queue.mine.set(row.id, row);
  state.set({ panels: state.known.panels.map((one) => (one.id === row.id ? row : one)) });
}

/** While a change is on its way, what was read before it does not take its place. */
export function holdMine(state) {
  const isBehind = (one) => {
    const mine = queue.mine.get(one.id);
    return mine && mine !== one && (one.version < mine.version || (queue.waiting > 0 && one.version === mine.version));
  };
  state.on(["panels"], ({ panels }) => {
    if (panels.some(isBehind)) state.set({ panels: panels.map((one) => (isBehind(one) ? queue.mine.get(one.id) : one)) });
  });
}
