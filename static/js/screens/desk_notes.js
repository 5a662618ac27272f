import { button, h, swap } from "../elements/h.js";
import { keepFocus, placeOfFocus } from "../elements/kept_place.js";
import { noteEditor } from "../elements/note_editor.js";
import { noteHead, noteTab } from "../elements/note_face.js";
import { STAGES } from "../elements/words.js";
import { changeDraft, endDraft } from "./desk_draft.js";
import { isAskedFirst, notesListed } from "./desk_facts.js";
import { load } from "./desk_load.js";
import { NARROW, drawLeaders, foldNotes, standNotes } from "./desk_margin.js";
import { uploadDialog } from "./dialogs_on_demand.js";
import { drawShapes, markFigures, mayCorrect } from "./tools_on_demand.js";

/** Notes in the page's own margins, each at the height of its spot with a leader to it; on a narrow screen, a list below the page. */
export function showNotes(state, parts) {
  const stand = () => standNotes(state.known, parts);
  // Others' notes come in while one is written: its paper is drawn anew only when it is moved.
  const written = { draft: null, item: null };
  // Of many notes a key changes two: what says the same as before keeps its element.
  let tabs = new Map();
  let opened = null;
  // What is written grows by a hand, too, and by what comes on demand.
  const grown = new ResizeObserver(stand);
  const foldAndStand = (isAnew) => {
    foldNotes(parts, isAnew);
    stand();
  };
  state.on(["notes", "note", "draft", "showsClosed", "panels", "page", "revision", "isLoaded", "notYet"], (known) => {
    const listed = notesListed(known).filter((note) => note.id !== known.draft?.note?.id);
    if (written.draft !== known.draft) {
      Object.assign(written, { draft: known.draft, item: known.draft && draftItem(known.draft, state) });
      if (written.item) grown.observe(written.item);
    }
    const draft = written.item;
    const held = placeOfFocus(parts.list);
    const answering = document.activeElement?.closest(".reply-field")?.closest(".note") ?? null;
    const asAnswered = (item) => (answering ? taken.module.keptWhileAnswered(answering, item) : item);
    tabs = new Map(listed.map((note) => {
      const [sign, before] = [JSON.stringify([note, isAskedFirst(note, known)]), tabs.get(note.id)];
      return [note.id, before?.sign === sign ? before : { sign, item: null }];
    }));
    const itemOf = (note) => {
      if (note.id === known.note) return asAnswered(noteItem(note, state));
      const tab = tabs.get(note.id);
      tab.item ??= noteItem(note, state);
      return tab.item;
    };
    swap(parts.list, draft, listed.map(itemOf), !listed.length && !draft && known.isLoaded && teach(state));
    parts.list.classList.toggle("is-empty", !listed.length && !draft);
    if (held) keepFocus(parts, held, known);
    foldAndStand();
    const full = parts.list.querySelector(".note-open");
    if (full && opened !== known.note && NARROW.matches) taken.module.comeInSight(parts.list);
    opened = full ? known.note : null;
  });
  state.on(["view", "overlays"], stand);
  state.on(["box"], () => foldAndStand(true));
  NARROW.addEventListener("change", () => foldAndStand(true));
  grown.observe(parts.sheet);
  parts.list.addEventListener("input", stand);
  addEventListener("scroll", () => requestAnimationFrame(() => drawLeaders(state.known, parts)), { passive: true });
}

/** On a narrow screen the page comes along to the note's own spot; beside the page its leader shows it. */
async function choose(note, state) {
  const isOpened = note.id !== state.known.note;
  const comes = isOpened && NARROW.matches && (await import("./pick_note.js"));
  state.set({ note: isOpened ? note.id : null });
  if (comes) comes.showSpot(state, note);
}

function noteItem(note, state) {
  const { known } = state;
  const isAtHand = note.id === known.note;
  return noteTab(note, isAtHand, noteHead(note, isAtHand, () => choose(note, state), isAskedFirst(note, known)), isAtHand && openPart(note, state));
}

const taken = { module: null };

/** What a note says in full comes with the first that is taken up. */
export async function fullNotes() {
  taken.module = await import("../elements/note_open.js");
}

function openPart(note, state) {
  if (taken.module) return [taken.module.noteOpen(note, deskOf(note, state))];
  fullNotes().then(() => state.set({ note: state.known.note }));
  return [];
}

function deskOf(note, state) {
  const { known } = state;
  const current = known.page?.current_revision?.id;
  return {
    may: known.may, me: known.me, draws: known.draws, panel: known.panels.find((panel) => panel.id === note.panel), asks: isAskedFirst(note, known),
    seeBoth: note.revision && current ? `/pages/${known.pageId}/compare?before=${note.revision}&after=${current}&note=${note.id}` : null,
    markAgain: mayCorrect(known) && known.revision.figures_lost.includes(note.panel) && (() => markFigures(state, note.panel)),
    act: (deed, stepsOn = false) => act(state, note, deed, stepsOn), edit: () => edit(state, note), replied: () => load(state, ["notes", "page"]),
  };
}

const edit = async (state, note) => (await import("./note_edit.js")).editNote(state, note);

/** The script of what is done with notes comes with the first deed. */
export async function act(state, note, deed, stepsOn) {
  const actions = await import("./note_actions.js");
  await actions.doWithNote(state, note, deed, { stepsOn, again: () => load(state, ["notes", "page", "panels", "revision"]) });
}

function draftItem(draft, state) {
  // There before it is asked for: a line that breaks while one writes loses nothing.
  const sending = import("./draft_sending.js");
  return h("li", { class: "note is-person is-draft is-at-hand", "data-note": "draft" }, noteEditor(draft, {
    onChange: (fields) => changeDraft(state, fields), onSend: async (held) => (await sending).sendDraft(state, held), onDrop: () => endDraft(state),
    onDraw: state.known.revision && (!draft.note || draft.note.scope === "region") ? () => drawShapes(state) : null, mayHold: !draft.note, rubric: draft.note ? [] : state.known.rubric,
  }));
}

function teach(state) {
  const { revision, may, measured_waits, draws, page } = state.known;
  const waits = revision && revision.id !== page.current_revision?.id && STAGES.indexOf(revision.stage) > STAGES.indexOf(page.stage);
  const isBlank = !revision && page && !page.laid_aside_at;
  return h("li", { class: "note teach-note", "data-note": "teach" }, h("p", { class: "quiet" },
    revision
      ? (waits ? "Waits for its stage: what was found is pinned when it comes." : may.write ? "No open note. Drag over the drawing to pin one, or choose a panel and press C." : "No open note on this page.") + (measured_waits ?? "")
      : "Nothing is drawn here yet. What is measured on the first picture will stand here."),
    isBlank && draws && button("Upload the first picture", () => uploadDialog(page, () => load(state)), { "data-key": "upload" }));
}
