import { readMoves } from "../api/pages.js";
import { openDialog } from "../elements/dialog.js";
import { dropDraft, keepDraft, readDraft } from "../elements/drafts.js";
import { field } from "../elements/field.js";
import { h, swap } from "../elements/h.js";
import { letGo } from "../elements/let_go.js";
import { attempt } from "../elements/slips.js";
import { heldNotes } from "./desk_facts.js";
import { comeBackLater, goOnAsAsked, moveRow, takeNewest } from "./move_row.js";
import { further, heldWords, measuredOpen, openWords, upTo, withHeld, withPicture } from "./moves_facts.js";
import { noteRows } from "./note_rows.js";
import { pickNote } from "./pick_note.js";

/**
 * The moves of a page or of one panel: those that can be made, and for the others what stands against them. While it lies open it goes
 * along with what others do. @param {"pages"|"panels"} kind
 */
export function movesDialog(kind, row, state) {
  const name = kind === "pages" ? `Page ${row.numbers.join("-")}` : `Panel ${row.order}`;
  const key = `a word with a move, ${kind} ${row.id}, member ${state.known.me.id}`;
  const desk = { kind, row, state, key, seen: state.known.page.current_revision, keepsWords: true };
  let stop = () => {};
  openDialog(name, (close) => {
    const body = h("div", { class: "dialog-body", "aria-busy": "true" });
    Object.assign(desk, { close, parts: partsOf(desk), showMoves: () => showMoves(desk) });
    const read = readAgain(desk, body);
    stop = state.on(["page", "panels", "notes"], () => {
      takeNewest(desk);
      read();
    });
    return body;
  }, { onClose: () => {
    stop();
    if (!desk.keepsWords) dropDraft(key);
  } });
}

/** One reading at a time; what changes meanwhile is read after it. */
function readAgain(desk, body) {
  let [isReading, isStale] = [false, false];
  return async () => {
    isStale = true;
    if (isReading) return;
    isReading = true;
    while (isStale) {
      isStale = false;
      const isFirst = !body.childElementCount;
      const reading = readMoves(desk.kind, desk.row.id);
      // Later ones are told of by the Desk, which reads at the same time.
      const answer = await (isFirst ? attempt(() => reading) : reading.catch(() => null));
      if (!answer && isFirst) return desk.close();
      await letGo();
      if (answer) show(desk, answer);
      if (isFirst) body.replaceChildren(...Object.values(desk.parts).map(({ place }) => place));
      body.setAttribute("aria-busy", "false");
    }
    isReading = false;
  };
}

/** What was typed is dropped where the dialog is closed, which asks first; what was kept from before stays until it is sent. */
function keepWords(desk, words) {
  keepDraft(desk.key, words);
  desk.keepsWords = false;
}

/** What stays in its place while the rest is drawn anew. */
function partsOf(desk) {
  const why = h("textarea", { name: "why", rows: "3", oninput: () => keepWords(desk, why.value), value: readDraft(desk.key) ?? "" });
  const along = h("input", { type: "checkbox", checked: true, "data-key": "held-along", onchange: () => showMoves(desk) });
  const to = h("select");
  const words = h("span");
  const [list, about] = [h("ul", { class: "rows" }), h("div", { class: "dialog-body" })];
  return {
    about: { place: about },
    along: { place: h("div", { class: "choices" }, h("label", {}, along, words)), words, isOn: () => along.checked },
    why: { place: field("A word with it (if you like)", why), value: () => why.value.trim() },
    to: { place: field("Sent back to the stage", to), select: to },
    moves: { place: list },
  };
}

function show(desk, { moves, open }) {
  const { kind, parts, state: { known } } = desk;
  const stage = kind === "pages" ? desk.row.stage : known.page.stage;
  desk.moves = moves.map((one) => further(one, stage)).filter(({ refusal }) => !["not-an-artist", "not-a-reviewer"].includes(refusal?.code));
  desk.held = heldNotes(known).filter((note) => kind === "pages" || note.panel === desk.row.id);
  const back = desk.moves.find((one) => one.move === "send-back");
  const isPossible = desk.moves.some((one) => !one.refusal || one.refusal.code === "being-read");
  const { about, along, why, to } = parts;
  const isOpen = about.place.querySelector("details")?.open;
  swap(about.place, desk.moved && h("p", { class: "fault" }, desk.moved), h("p", {}, openWords(open, measuredOpen(desk))), stillOpen(desk, isOpen));
  along.place.hidden = !isPossible || !desk.held.length;
  along.words.textContent = heldWords(desk.held, kind);
  why.place.hidden = !isPossible && !why.value();
  to.place.hidden = !back || Boolean(back.refusal);
  const stages = back?.stages ?? upTo(stage);
  const chosen = stages.includes(to.select.value) && to.select.length === stages.length ? to.select.value : stages.at(-1);
  to.select.replaceChildren(...stages.map((one) => h("option", { value: one, selected: one === chosen }, one)));
  showMoves(desk);
}

function showMoves(desk) {
  const { page } = desk.state.known;
  const sent = desk.parts.along.isOn() ? desk.held : [];
  const rows = desk.moves.map((one) => withPicture(withHeld(one, sent), desk.seen, page.current_revision));
  swap(desk.parts.moves.place, rows.map((one) => moveRow(one, desk, sent)));
  goOnAsAsked(desk, rows, sent);
}

/** What is still to be dealt with, each a way to its note. */
function stillOpen(desk, isOpen) {
  const { kind, row, state } = desk;
  const { notes } = state.known;
  const waiting = notes.filter((note) => ["open", "answered"].includes(note.state) && note.source === "person" && note.tone !== "keep" && (kind === "pages" || note.panel === row.id));
  if (!waiting.length) return null;
  const musts = (note) => (note.tone === "must" && note.state === "open" ? 0 : note.state === "open" ? 1 : 2);
  return h("details", { open: isOpen ?? waiting.length < 6 }, h("summary", { "data-key": "still-open" }, `What people said and is not settled: ${waiting.length}`),
    noteRows([...waiting].sort((a, b) => musts(a) - musts(b)), (note) => {
      comeBackLater(desk);
      pickNote(state, note);
    }));
}
