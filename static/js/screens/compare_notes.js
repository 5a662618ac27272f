import { h, swap, word } from "../elements/h.js";
import { noteHead, noteTab } from "../elements/note_face.js";
import { keptWhileAnswered, noteOpen } from "../elements/note_open.js";
import { closedCount, placeSeen } from "./compare_facts.js";
import { loadNotes } from "./compare_load.js";
import { showSpot } from "./compare_view.js";
import { isAskedFirst, nextOpen, notesListed } from "./desk_facts.js";

/** What was said of the two sheets, beside them: whether it is answered is seen here, and so it is said here. */
export function showNotes(state, { root, list }) {
  const listed = h("ol", { class: "note-tabs compare-note-list" });
  const foot = h("p", { class: "small" });
  list.append(listed, foot);
  let shown = null;
  state.on(["notes", "note", "showsClosed", "showsNotes", "panels", "page", "revision", "notYet"], (known) => {
    const isSeen = Boolean(known.newer) && known.showsNotes && known.notes.length > 0;
    list.hidden = !isSeen;
    root.classList.toggle("has-notes", isSeen);
    if (!known.page) return;
    const answering = document.activeElement?.closest(".reply-field")?.closest(".note") ?? null;
    const items = notesListed(known).map((note) => keptWhileAnswered(answering, noteItem(note, state)));
    swap(listed, items);
    swap(foot, ...footOf(state, items.length));
    shown = comeAlong(state, shown);
  });
  // The view is there a moment after the notes are.
  state.on(["box", "newer"], () => {
    shown = comeAlong(state, shown);
  });
}

/** The sheets come along to a note that was taken up, once. */
function comeAlong(state, shown) {
  const { known } = state;
  const note = known.notes.find((one) => one.id === known.note);
  if (!note) return known.note === null ? null : shown;
  if (note.id === shown || !known.newer || !known.box.width) return shown;
  const place = placeSeen(note, known);
  if (place) showSpot(state, place.region);
  return note.id;
}

function noteItem(note, state) {
  const isAtHand = note.id === state.known.note;
  return noteTab(note, isAtHand,
    noteHead(note, isAtHand, () => state.set({ note: isAtHand ? null : note.id }), isAskedFirst(note, state.known)),
    isAtHand && noteOpen(note, deskOf(note, state)),
    isAtHand && h("p", { class: "small compare-note-foot" }, h("a", { href: `/pages/${note.page}?note=${note.id}`, "data-key": `desk-${note.id}` }, "On the Desk")));
}

function deskOf(note, state) {
  const { known } = state;
  return {
    may: known.may, me: known.me, draws: known.draws, panel: known.panels.find((panel) => panel.id === note.panel), asks: isAskedFirst(note, known),
    seeBoth: null, edit: null, act: (deed, stepsOn = false) => act(state, note, deed, stepsOn), replied: () => loadNotes(state),
  };
}

/** The script of what is done with notes comes with the first deed. */
async function act(state, note, deed, stepsOn) {
  const actions = await import("./note_actions.js");
  await actions.doWithNote(state, note, deed, { stepsOn, again: () => loadNotes(state) });
}

function footOf(state, listed) {
  const { known } = state;
  const closed = closedCount(known);
  if (!closed) return [];
  return [!listed && h("span", { class: "quiet" }, "No open note on these two. "),
    word(known.showsClosed ? "Leave closed ones out" : `Closed ones too: ${closed}`, () => state.set({ showsClosed: !known.showsClosed }), { "data-key": "closed" })];
}

/** What the keys do with notes. @returns rows as `listenToKeys` has them */
export function noteKeys(state) {
  const { known } = state;
  const step = (by) => () => {
    const note = nextOpen(known, by);
    if (!note) return;
    state.set({ note: note.id, showsNotes: true });
    requestAnimationFrame(() => document.querySelector(`[data-key="note-${note.id}"]`)?.focus());
  };
  const deed = (name) => () => {
    const note = known.notes.find((one) => one.id === known.note);
    if (note) act(state, note, name, true);
  };
  return [
    { keys: ["m"], words: "notes beside the sheets, or not", run: () => state.set({ showsNotes: !known.showsNotes }) },
    { keys: ["j"], words: "next open note; those whose spot changed come first", run: step(1) },
    { keys: ["k"], words: "open note before", run: step(-1) },
    { keys: ["y"], words: "the note at hand is dealt with: settle it, and on to the next", run: deed("settled") },
    { keys: ["o"], words: "not yet: it stays open, and on to the next", run: deed("not-yet") },
    { keys: ["a"], words: "answer it", run: deed("answered") },
    { keys: ["x"], words: "stet: let it stand", run: deed("stet") },
    { keys: ["u"], words: "undo the last step", run: async () => (await import("./undo.js")).undoLast() },
  ];
}
