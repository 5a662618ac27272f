import { followBoard } from "../api/live.js";
import { readAndShow } from "../elements/read_and_show.js";

const BURST_MS = 300;

/**
 * Reads what a screen shows, and again after others change it: a burst of changes once.
 * @template T
 * @param {{board: number, lastEvent: number, kinds: RegExp, read: () => Promise<T>, show: (answer: T) => void}} about `kinds` of events that change it
 * @returns {() => Promise<void>} reads it now
 */
export function keepReading({ board, lastEvent, kinds, read, show }) {
  const load = readAndShow(String(kinds), read, show);
  const burst = { timer: null };
  followBoard(board, lastEvent, ({ kind }) => {
    if (!kinds.test(kind)) return;
    burst.timer ??= setTimeout(() => {
      burst.timer = null;
      load();
    }, BURST_MS);
  });
  load();
  return load;
}
