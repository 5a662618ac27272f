import { letGo } from "./let_go.js";
import { readingCame, readingFailed } from "./readings.js";

/**
 * Reads what a screen shows, and shows it whole or not at all; where nothing answers, it is read again until it comes. Answers overtake each
 * other; an older one does not undo a newer.
 * @template T
 * @param {string} name of what is read @param {() => Promise<T>} read @param {(answer: T) => void} show
 * @returns {() => Promise<void>} reads it now
 */
export function readAndShow(name, read, show) {
  const reading = { begun: 0, shown: 0 };
  return async function load() {
    const mine = ++reading.begun;
    try {
      const answer = await read();
      await letGo();
      if (mine < reading.shown) return;
      reading.shown = mine;
      readingCame();
      show(answer);
    } catch (error) {
      readingFailed(error, name, load);
    }
  };
}
