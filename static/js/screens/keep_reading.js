import { followBoard } from "../api/live.js";
import { letGo } from "../elements/let_go.js";
import { readingCame, readingFailed } from "../elements/readings.js";

const BURST_MS = 300;

/**
 * Reads what a screen shows, and again after others change it: a burst of changes once. Answers overtake each other; an older one does
 * not undo a newer.
 * @template T
 * @param {{board: number, lastEvent: number, kinds: RegExp, read: () => Promise<T>, show: (answer: T) => void}} about `kinds` of events that change it
 * @returns {() => Promise<void>} reads it now
 */
export function keepReading({ board, lastEvent, kinds, read, show }) {
  const reading = { begun: 0, shown: 0 };
  async function load() {
    const mine = ++reading.begun;
    try {
      const answer = await read();
      await letGo();
      if (mine < reading.shown) return;
      reading.shown = mine;
      readingCame();
      show(answer);
    } catch (error) {
      readingFailed(error, String(kinds), load);
    }
  }
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
