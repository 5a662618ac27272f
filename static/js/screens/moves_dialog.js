import { sendHeld } from "../api/notes.js";
import { move, readMoves } from "../api/pages.js";
import { openDialog } from "../elements/dialog.js";
import { choice, field } from "../elements/field.js";
import { h } from "../elements/h.js";
import { attempt } from "../elements/slips.js";
import { STAGES, count } from "../elements/words.js";
import { heldNotes } from "./desk_facts.js";
import { load } from "./desk_load.js";
import { noteRows } from "./note_rows.js";
import { pickNote } from "./pick_note.js";

const WORDS = { "hand-in": "Hand in", "sign-off": "Sign off", "send-back": "Send back" };
const DONE = { "hand-in": "Handed in.", "sign-off": "Signed off.", "send-back": "Sent back." };
const MEANS = {
  "hand-in": "Tells the reviewer that it is ready to be read.",
  "sign-off": "The next stage begins; after the final, it is finished.",
  "send-back": "To be drawn again; what you write becomes a must note.",
};

/** The moves of a page or of one panel: those that can be made, and for the others what stands against them. @param {"pages"|"panels"} kind */
export function movesDialog(kind, row, state) {
  const name = kind === "pages" ? `Page ${row.numbers.join("-")}` : `Panel ${row.order}`;
  openDialog(name, (close, dialog) => {
    const body = h("div", { class: "dialog-body", "aria-busy": "true" });
    attempt(() => readMoves(kind, row.id)).then((answer) => {
      if (!answer) return close();
      body.setAttribute("aria-busy", "false");
      return body.replaceChildren(...content(answer, { kind, row, state, close, dialog }));
    });
    return body;
  });
}

function content({ moves, open }, desk) {
  const why = h("textarea", { name: "why", rows: "3" });
  const stage = desk.kind === "pages" ? desk.row.stage : desk.state.known.page.stage;
  const mine = moves.map((one) => further(one, stage)).filter(({ refusal }) => !["not-an-artist", "not-a-reviewer"].includes(refusal?.code));
  const stages = mine.find((one) => one.move === "send-back")?.stages ?? upTo(stage);
  const to = choice(stages.map((one) => [one, one]), stages.at(-1));
  const isPossible = mine.some((one) => !one.refusal);
  const held = heldNotes(desk.state.known).filter((note) => desk.kind === "pages" || note.panel === desk.row.id);
  const along = h("input", { type: "checkbox", checked: true, "data-key": "held-along", onchange: () => show() });
  const sent = () => (along.checked ? held : []);
  const list = h("ul", { class: "rows" });
  const show = () => list.replaceChildren(...mine.map((one) => moveRow(withHeld(one, sent()), desk, () => ({ why: why.value.trim(), to_stage: to.value, held: sent() }))));
  show();
  return [
    h("p", {}, openWords(open, measuredOpen(desk))),
    stillOpen(desk),
    isPossible && held.length > 0 && h("div", { class: "choices" }, h("label", {}, along, heldWords(held, desk.kind))),
    isPossible && field("A word with it (if you like)", why),
    mine.some((one) => one.move === "send-back" && !one.refusal) && field("Sent back to the stage", to),
    list,
  ].filter(Boolean);
}

const heldWords = ({ length }, kind) =>
  `You hold ${count(length, "note")} ${kind === "pages" ? "on this page" : "in this panel"}: send ${length === 1 ? "it" : "them"} along`;

/** A must note that goes along is open then, and would stand against a sign-off. */
export function withHeld(one, held) {
  const stands = one.move === "sign-off" && !one.refusal && held.some((note) => note.tone === "must");
  return stands ? { ...one, refusal: { code: "held-must", reason: "You hold a must note. Sent along, it has to be dealt with first." } } : one;
}

/** What is still to be dealt with, each a way to its note. */
function stillOpen({ kind, row, state, close }) {
  const { notes } = state.known;
  const waiting = notes.filter((note) => ["open", "answered"].includes(note.state) && note.source === "person" && (kind === "pages" || note.panel === row.id));
  if (!waiting.length) return null;
  const musts = (note) => (note.tone === "must" && note.state === "open" ? 0 : note.state === "open" ? 1 : 2);
  return h("details", { open: waiting.length < 6 }, h("summary", {}, `What people said and is not settled: ${waiting.length}`),
    noteRows([...waiting].sort((a, b) => musts(a) - musts(b)), (note) => {
      close();
      pickNote(state, note);
    }));
}

const upTo = (stage) => STAGES.slice(0, STAGES.indexOf(stage) + 1);

/** What the artist has already can still be sent back further: to an earlier stage. */
function further(one, stage) {
  const earlier = upTo(stage).slice(0, -1);
  const goesFurther = one.move === "send-back" && one.refusal?.code === "not-handed-in" && earlier.length > 0;
  return goesFurther ? { ...one, refusal: null, stages: earlier } : one;
}

/** Measured notes hold nothing back; who signs off should know of them all the same. */
const measuredOpen = ({ kind, row, state }) =>
  state.known.notes.filter((one) => one.source === "measured" && one.state === "open" && (kind === "pages" || one.panel === row.id)).length;

function openWords({ must, other, answered }, measured) {
  const parts = [must && `${must} must`, other && `${other} other`].filter(Boolean).join(" and ");
  const first = parts ? `Still open: ${parts}.` : `No note${measured ? " by a person" : ""} is open.`;
  return [first, answered && `Answered and not settled: ${answered}.`, measured && `Measured and still open: ${measured}.`].filter(Boolean).join(" ");
}

function moveRow({ move: name, refusal }, desk, fields) {
  const id = `why-not-${name}`;
  const make = async () => {
    const { why, to_stage, held } = fields();
    if (held.length && !(await attempt(() => sendHeld(desk.state.known.board.id, held.map((note) => note.id))))) return;
    const body = { move: name, ...(why ? { why } : {}), ...(name === "send-back" ? { to_stage } : {}) };
    const made = await attempt(() => move(desk.kind, desk.row, body), { done: DONE[name], onRefusal: () => load(desk.state) });
    desk.close();
    if (made) load(desk.state);
  };
  return h("li", {},
    h("span", {}, h("strong", {}, WORDS[name]), h("span", { class: "quiet small block", id }, refusal ? refusal.reason : MEANS[name])),
    refusal?.code === "assignment" && desk.state.known.assignment
      ? h("a", { class: "button first", href: `/assignments/${desk.state.known.assignment}`, "aria-describedby": id }, "To the assignment")
      : h("button", { type: "button", class: refusal ? "button" : "button first", disabled: Boolean(refusal), "aria-describedby": id, onclick: make }, WORDS[name]));
}
