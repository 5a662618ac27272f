/** Words that were typed and not sent yet outlive the tab. Where the browser keeps nothing, they live as long as the screen. */

const kept = new Map();
const name = (key) => `underblue draft ${key}`;

export function keepDraft(key, value) {
  kept.set(key, value);
  try {
    localStorage.setItem(name(key), JSON.stringify(value));
  } catch {
    // Private windows refuse storage; the copy above has to do.
  }
}

export function readDraft(key) {
  try {
    const text = localStorage.getItem(name(key));
    return text ? JSON.parse(text) : (kept.get(key) ?? null);
  } catch {
    return kept.get(key) ?? null;
  }
}

/** @param {string} key @param {string} [its] key of the sending: another one's, of a second tab, stays */
export function dropDraft(key, its) {
  const lies = its && readDraft(key)?.key;
  if (lies && lies !== its) return;
  kept.delete(key);
  try {
    localStorage.removeItem(name(key));
  } catch {
    // Nothing was kept there.
  }
}
