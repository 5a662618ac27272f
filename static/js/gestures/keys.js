/** Single letters may be hit by chance, or by a voice: who wants to can keep them to the picture alone (WCAG 2.2, 2.1.4). */
const SETTING = "underblue letters everywhere";

export const lettersAreEverywhere = () => {
  try {
    return localStorage.getItem(SETTING) !== "no";
  } catch {
    return true;
  }
};

export function setLettersEverywhere(isOn) {
  try {
    localStorage.setItem(SETTING, isOn ? "yes" : "no");
  } catch {
    // Private windows keep nothing; the keys stay as they are.
  }
}

/**
 * Keys of a screen. They are silent while somebody types, and while a dialog is open.
 * @param {{keys: string[], words: string, run: (event: KeyboardEvent) => void, where?: HTMLElement, unless?: (event: KeyboardEvent) => boolean}[]} table
 *   `where`: only while the focus is in there
 * @param {HTMLElement} home where single characters work in any case
 * @param {{isFirst?: boolean}} [options] `isFirst`: before all other tables, while it is listened to
 * @returns {() => void}
 */
export function listenToKeys(table, home, { isFirst = false } = {}) {
  const onKey = (event) => {
    if (event.defaultPrevented || isBrowsersOwn(event) || isTyping(event.target)) return;
    if (document.querySelector("dialog[open]")) return;
    if (event.key.length === 1 && !home.contains(event.target) && !lettersAreEverywhere()) return;
    const row = table.find(({ keys, where }) => keys.includes(event.key) && (!where || where.contains(event.target)));
    if (!row || row.unless?.(event)) return;
    event.preventDefault();
    row.run(event);
  };
  document.addEventListener("keydown", onKey, isFirst);
  return () => document.removeEventListener("keydown", onKey, isFirst);
}

/** Alt with a letter or a digit opens a menu or the address bar; a sign may need Alt, or AltGr (which is Ctrl and Alt to some), to be typed. */
export function isBrowsersOwn(event) {
  if (event.getModifierState?.("AltGraph")) return false;
  return event.ctrlKey || event.metaKey || (event.altKey && /^[\p{L}\p{N}]$/u.test(event.key));
}

const isTyping = (target) => target instanceof HTMLElement && target.matches("input, textarea, select, [contenteditable]");
