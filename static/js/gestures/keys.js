/**
 * Keys of a screen. They are silent while somebody types, and while a dialog is open.
 * @param {{keys: string[], words: string, run: (event: KeyboardEvent) => void, where?: HTMLElement}[]} table
 *   `where`: only while the focus is in there
 * @returns {() => void}
 */
export function listenToKeys(table) {
  const onKey = (event) => {
    if (event.defaultPrevented || event.ctrlKey || event.metaKey || isTyping(event.target)) return;
    if (document.querySelector("dialog[open]")) return;
    const row = table.find(({ keys, where }) => keys.includes(event.key) && (!where || where.contains(event.target)));
    if (!row) return;
    event.preventDefault();
    row.run(event);
  };
  document.addEventListener("keydown", onKey);
  return () => document.removeEventListener("keydown", onKey);
}

const isTyping = (target) => target instanceof HTMLElement && target.matches("input, textarea, select, [contenteditable]");
