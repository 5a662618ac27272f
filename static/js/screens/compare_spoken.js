import { whisper } from "../elements/slips.js";
import { MODES, canRegister, isRegistered, nameOfRevision, panelsOf, wordsBetween } from "./compare_facts.js";

/** What the eye sees at once after a key: how the two sheets lie, and which of them is seen. */
export const tellSeen = (known) => known.newer && whisper(seenWords(known));

export function tellSlid({ mode, fade, edge }) {
  if (mode === "fade") whisper(`${Math.round(fade)} % of the newer one.`);
  if (mode === "split") whisper(`The edge is at ${Math.round(edge)} %.`);
}

/** The panel at hand, and what changed in it. */
export function tellPanel(known) {
  const panels = panelsOf(known);
  const panel = panels.find((one) => one.id === known.panel);
  if (panel) whisper(`Panel ${panel.order} of ${panels.length}${wordOf(wordsBetween(known).get(panel.id))}.`);
}

const wordOf = (change) => (change ? `: ${change.word}` : "");

export function seenWords(known) {
  const { mode, isFlipped, fade, edge, older, newer } = known;
  const [, name] = MODES.find(([one]) => one === mode);
  const [before, after] = [older, newer].map((one) => `revision ${nameOfRevision(one)}`);
  const seen = {
    side: `${before}, and ${after}`,
    fade: `${Math.round(fade)} % of ${after}, over ${before}`,
    split: `${before} left of ${Math.round(edge)} %, ${after} right of it`,
    flip: after,
    differs: `from ${before} to ${after}`,
  }[mode];
  const lies = mode === "side" ? "" : isRegistered(known) ? ", laid on one another" : canRegister(known) ? ", as uploaded" : ", as uploaded: no map leads from one to the other";
  return `${name}: ${isFlipped && mode !== "side" ? before : seen}${lies}.`;
}
