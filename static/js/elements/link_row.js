import { askFirst } from "./dialog.js";
import { h, word } from "./h.js";
import { attempt, say } from "./slips.js";
import { when } from "./words.js";

/**
 * A link that lets somebody in: for whom, how long, to copy and to take back.
 * @param {{link: string, expires_at: string, uses_left: number}} row
 */
export function linkRow(row, whom, takeBack) {
  const address = h("span", { class: "sub link-out" }, location.origin + row.link);
  const item = h("li", {}, h("span", {}, h("strong", {}, whom), h("span", { class: "sub" }, `until ${when(row.expires_at)}`), address),
    word("Copy", () => copy(address), { "aria-label": `Copy the link for ${whom}` }),
    word("Take back", () => (row.uses_left > 1 ? askFirst("Take this link back?", "Whoever has it comes in by it no more. Who is in stays.", "Take it back", takeIt) : takeIt()), { "aria-label": `Take back the link for ${whom}` }));
  /** The next link is at hand after it, or else the list. */
  async function takeIt() {
    const list = item.parentElement;
    const place = [...list.children].indexOf(item);
    if (!(await attempt(takeBack, { done: "Taken back." }))) return;
    list.tabIndex = -1;
    (list.children[Math.min(place, list.children.length - 1)]?.querySelector("button") ?? list).focus();
  }
  return item;
}

/** Without HTTPS a browser hands out no clipboard: then it is left to the keyboard. */
async function copy(shown) {
  try {
    await navigator.clipboard.writeText(shown.textContent);
    say("Copied.");
  } catch {
    getSelection().selectAllChildren(shown);
    say("It is marked now: copy it as you copy any words.");
  }
}
