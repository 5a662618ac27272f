import { h } from "./h.js";
import { toneWord } from "./tone_mark.js";
import { howMeasured } from "./how_measured.js";
import { STATE_WORDS, TREND, figure, nameOf, sureness, when } from "./words.js";

/** The head of a note: what one reads in passing. A person's is a paper tab, a measured one a caliper with its figure. */
export function noteHead(note, isAtHand, onChoose, isAsked = false) {
  const parts = note.source === "measured" ? measuredHead(note) : personHead(note);
  return h("button", {
    type: "button", class: "note-head", "data-key": `note-${note.id}`, "aria-expanded": String(isAtHand), onclick: onChoose,
  }, ...parts, !isAtHand && h("span", { class: "note-start" }, note.source === "measured" ? "" : note.body), !(isAtHand && isAsked) && spotWord(note, isAsked));
}

/** What became of the note's spot since it was pinned, for a note that still waits for somebody. */
function spotWord(note, isAsked) {
  if (!note.spot || !["open", "answered"].includes(note.state)) return null;
  const words = note.spot === "unchanged" ? "not changed here" : isAsked ? "changed here since: answered in this revision?" : "changed here since";
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
      h("span", { class: "caliper" }, h("span", { class: "figure" }, finding ? figure(finding.measured, finding.unit) : "gone")),
      stateWord(note)),
    h("span", { class: "note-kind" }, h("span", { class: "out-of-sight" }, "Measured: "), finding?.label ?? note.check_label),
  ];
}

function stateWord(note) {
  return note.state === "open" ? null : h("span", { class: "note-state" }, STATE_WORDS[note.state]);
}

function whereOf(note) {
  if (note.panel_order) return `panel ${note.panel_order}`;
  if (note.scope !== "region") return `the whole ${note.scope}`;
  return note.source === "measured" ? "the page" : "between panels";
}

/** What the note says in full, and to a measured one how it was measured. */
export function noteBody(note) {
  const from = note.source === "measured" ? note.check_label : note.pen_name || nameOf(note.author);
  return [
    h("p", { class: "note-from quiet small" }, `${from}, ${whereOf(note)}${note.criterion_title ? `; ${note.criterion_title}` : ""}`, note.sent_at && h("span", {}, `, ${when(note.sent_at)}`)),
    h("p", { class: "note-words" }, note.body),
    note.finding?.principle && h("img", { class: "principle", src: note.finding.principle, alt: "", loading: "lazy" }),
    note.finding && measuredFigures(note.finding),
    note.finding && howMeasured(note.finding.kind, note.board),
    note.here?.placed_by === "panel" && h("p", { class: "hint" }, "Carried to the same place in its panel; the drawing there may have moved."),
  ];
}

function measuredFigures(finding) {
  const row = (name, ...value) => h("div", {}, h("dt", {}, name), h("dd", {}, ...value));
  const number = (value) => h("span", { class: "figure" }, figure(value, finding.unit));
  return h("dl", { class: "note-figures small" },
    row("Measured", number(finding.measured)),
    row("Expected", number(finding.expected), " give or take ", number(finding.tolerance)),
    row("How sure", `${sureness(finding.confidence)} `, h("span", { class: "figure" }, finding.confidence.toFixed(2))),
    row("Since then", TREND[finding.trend] ?? finding.trend));
}

export function replyList(note) {
  if (!note.replies.length) return null;
  return h("ol", { class: "replies", "aria-label": "Replies" }, note.replies.map((reply) =>
    h("li", {}, h("span", { class: "quiet small" }, `${nameOf(reply.author)}, ${when(reply.created_at)}`), h("p", {}, reply.body))));
}
