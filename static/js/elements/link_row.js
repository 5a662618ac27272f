import { h, word } from "./h.js";
import { attempt, say } from "./slips.js";
import { when } from "./words.js";

/** A link that lets somebody in: for whom, how long, to copy and to take back. @param {{link: string, expires_at: string}} row */
export function linkRow(row, whom, takeBack) {
  const address = h("span", { class: "sub link-out" }, location.origin + row.link);
  return h("li", {}, h("span", {}, h("strong", {}, whom), h("span", { class: "sub" }, `until ${when(row.expires_at)}`), address),
    word("Copy", () => copy(address), { "aria-label": `Copy the link for ${whom}` }),
    word("Take back", () => attempt(takeBack), { "aria-label": `Take back the link for ${whom}` }));
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
