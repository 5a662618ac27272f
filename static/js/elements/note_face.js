import { h } from "./h.js";
import { toneWord } from "./tone_mark.js";
import { STATE_WORDS, figure, isClosed } from "./words.js";

/** A note in a list: what it is, by whom and in which state, told by its look. @param {...any} parts its head, and what it says in full */
export function noteTab(note, isAtHand, ...parts) {
  const kind = note.source === "measured" ? "is-measured" : "is-person";
  const classes = ["note", kind, isAtHand && "is-at-hand", isClosed(note) && "is-closed", note.state === "held" && "is-held"];
  return h("li", { class: classes.filter(Boolean).join(" "), "data-note": note.id, "data-tone": note.tone, "data-state": note.state }, ...parts);
}

/** The head of a note: what one reads in passing. A person's is a paper tab, a measured one a caliper with its figure. */
export function noteHead(note, isAtHand, onChoose, isAsked = false) {
  const parts = note.source === "measured" ? measuredHead(note) : personHead(note);
  return h("button", {
    type: "button", class: "note-head", "data-key": `note-${note.id}`, "aria-expanded": String(isAtHand), onclick: onChoose,
  }, ...parts, !isAtHand && h("span", { class: "note-start", dir: "auto" }, note.source === "measured" ? "" : note.body),
    h("span", { class: "out-of-sight" }, `(${whereOf(note)})`), !(isAtHand && isAsked) && spotWord(note, isAsked));
}

/** What became of the note's spot since it was pinned, for a note that still waits for somebody. */
function spotWord(note, isAsked) {
  if (!note.spot || !["open", "answered"].includes(note.state)) return null;
  const changed = note.astray ? "its panel is not here any more" : "changed here since";
  const words = note.spot === "unchanged" ? "not changed here" : isAsked ? `${changed}: answered in this revision?` : changed;
  return h("span", { class: "note-spot", "data-spot": note.spot }, words);
}

function personHead(note) {
  return [
    h("span", { class: "note-line" }, toneWord(note.tone), stateWord(note),
      note.replies.length > 0 && h("span", { class: "quiet" }, `${note.replies.length} ${note.replies.length === 1 ? "reply" : "replies"}`)),
  ];
}

function measuredHead(note) {
  const finding = note.finding;
  return [
    h("span", { class: "note-line" },
      h("span", { class: "caliper" }, h("span", { class: "figure" }, finding ? `${figure(finding.measured, finding.unit)}${isPast(note) ? " before" : ""}` : "gone")),
      stateWord(note)),
    h("span", { class: "note-kind" }, h("span", { class: "out-of-sight" }, "Measured: "), finding?.label ?? note.check_label),
    isPast(note) && h("span", { class: "note-spot" }, "not measured since"),
  ];
}

/** What it says was measured on an earlier picture; on the page as it stands nobody knows. */
export const isPast = (note) => Boolean(note.not_measured) && !isClosed(note);

function stateWord(note) {
  return note.state === "open" ? null : h("span", { class: "note-state" }, STATE_WORDS[note.state]);
}

export function whereOf(note) {
  if (note.astray) return astrayWords(note.astray);
  if (note.panel_order) return `panel ${note.panel_order}`;
  if (note.scope === "board") return "the comic as a whole";
  if (note.scope !== "region") return `the whole ${note.scope}`;
  return note.source === "measured" ? "the page" : "between panels";
}

/** Where it stands instead: the number of its panel is another one's here. As board/models/astray.py has it. */
function astrayWords({ why, revision, alternate, is_withdrawn: isWithdrawn }) {
  if (why === "panel") return "its panel is not on this picture";
  return `on ${alternate ? `alternate ${alternate}, ` : ""}revision ${revision}${isWithdrawn ? ", withdrawn" : ""}`;
}
