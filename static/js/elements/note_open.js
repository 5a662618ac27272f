import { button, h, swap } from "./h.js";
import { howMeasured } from "./how_measured.js";
import { noteDeeds, replyField } from "./note_deeds.js";
import { isPast, whereOf } from "./note_face.js";
import { TREND, figure, nameOf, sureness, when } from "./words.js";

const OF_FIGURES = ["heights", "proportions"];

/** A note that was taken up: all it says, what was replied, what may be done with it. @param {any} desk as noteDeeds has it, who replies, and how lost marks are made again */
export function noteOpen(note, desk) {
  const open = h("div", { class: "note-open" }, noteBody(note, desk.markAgain), replyList(note), ...noteDeeds(note, desk),
    note.state !== "held" && desk.may.write && replyField(note, desk.me, desk.replied));
  open.addEventListener("click", clickedOnPurpose(), { capture: true });
  return open;
}

/** Of a double click the second one means what the first one met: it is no deed that came under the pointer meanwhile. */
function clickedOnPurpose() {
  let before = null;
  return (event) => {
    const control = event.target.closest("button, a, summary");
    if (control && event.detail > 1 && control !== before) {
      event.preventDefault();
      event.stopPropagation();
    } else before = control;
  };
}

/**
 * On a narrow screen it comes to stand under the picture, as far down as there is room; if it stands there, nothing moves.
 * After the focus, which brings the note's head alone.
 */
export const comeInSight = (list) => requestAnimationFrame(() => {
  // It may have been drawn anew meanwhile.
  const item = list.querySelector(".note-open")?.parentElement;
  if (!item) return;
  const { scrollPaddingTop, scrollPaddingBottom } = getComputedStyle(document.documentElement);
  const room = innerHeight - parseFloat(scrollPaddingTop) - parseFloat(scrollPaddingBottom);
  item.scrollIntoView({ block: item.offsetHeight > room ? "start" : "nearest" });
});

/** What the note says in full, and to a measured one how it was measured. */
function noteBody(note, markAgain) {
  const from = note.source === "measured" ? note.check_label : note.pen_name || nameOf(note.author);
  return [
    h("p", { class: "note-from quiet small" }, `${from}, ${whereOf(note)}${note.criterion_title ? `; ${note.criterion_title}` : ""}`, note.sent_at && h("span", {}, `, ${when(note.sent_at)}`)),
    isPast(note) && h("p", { class: "hint" }, `Not measured on the page as it stands. ${note.not_measured}`),
    isPast(note) && markAgain && OF_FIGURES.includes(note.check) && button("Mark it again", markAgain, { "data-key": `mark-again-${note.id}` }),
    h("p", { class: "note-words", dir: "auto" }, note.body),
    note.finding?.principle && h("img", { class: "principle", src: note.finding.principle, alt: "", loading: "lazy" }),
    note.finding && measuredFigures(note.finding, isPast(note)),
    note.finding && otherPanel(note.finding.geometry),
    note.finding && howMeasured(note.finding.kind, note.board),
    note.here?.placed_by === "panel" && h("p", { class: "hint" }, "Carried to the same place in its panel; the drawing there may have moved."),
  ];
}

/** The other panel that a finding speaks of, on its own Desk. */
const otherPanel = ({ other }) => other?.page &&
  h("p", { class: "small" }, h("a", { href: `/pages/${other.page}?panel=${other.panel}` }, `Show ${other.called}`));

function measuredFigures(finding, wasBefore) {
  const row = (name, ...value) => h("div", {}, h("dt", {}, name), h("dd", {}, ...value));
  const number = (value) => h("span", { class: "figure" }, figure(value, finding.unit));
  return h("dl", { class: "note-figures small" },
    row(wasBefore ? "Measured before" : "Measured", number(finding.measured)),
    // What only informs is off from nothing.
    (finding.tolerance > 0 || finding.expected !== finding.measured) &&
      row("Expected", number(finding.expected), ...(finding.tolerance > 0 ? [" give or take ", number(finding.tolerance)] : [])),
    row("How sure", `${sureness(finding.confidence)} `, h("span", { class: "figure" }, finding.confidence.toFixed(2))),
    !wasBefore && row("Since then", TREND[finding.trend] ?? finding.trend));
}

function replyList(note) {
  if (!note.replies.length) return null;
  return h("ol", { class: "replies", "aria-label": "Replies" }, note.replies.map((reply) =>
    h("li", {}, h("span", { class: "quiet small" }, `${nameOf(reply.author)}, ${when(reply.created_at)}`), h("p", { dir: "auto" }, reply.body))));
}

/** Where a reply is being typed, all is drawn anew but its field. */
export function keptWhileAnswered(answering, fresh) {
  const [open, drawn] = [answering, fresh].map((item) => item?.querySelector(".note-open"));
  if (answering?.dataset.note !== fresh.dataset.note || !drawn?.querySelector(".reply-field")) return fresh;
  for (const { name, value } of fresh.attributes) answering.setAttribute(name, value);
  answering.firstChild.replaceWith(fresh.firstChild);
  swap(open, [...drawn.children].map((part) => (part.matches(".reply-field") ? open.querySelector(".reply-field") : part)));
  return answering;
}
