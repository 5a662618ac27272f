import { dropDraft } from "../elements/drafts.js";
import { attempt, say } from "../elements/slips.js";
import { draftKey, leaveDraft } from "./desk_draft.js";
import { load } from "./desk_load.js";
import { changeAsWritten, movedOf, pinOnce } from "./draft_arrived.js";
import { standing } from "./note_edit.js";
import { offerUndo } from "./undo.js";

/** What was written is pinned, held, or takes the place of what the note said. */
export async function sendDraft(state, isHeld) {
  const { draft } = state.known;
  if (!draft.body.trim()) return say("Write what you want to say first.", { isFault: true });
  if (isLost(draft, state.known)) return say("You drew this on a picture that is not the page's now. Draw it on the one that is.", { isFault: true });
  const before = draft.note;
  const note = await attempt(() => (before ? changeAsWritten(draft) : pinOnce(state, fieldsOf(draft, isHeld))));
  if (!note) return undefined;
  if (!before) say(note.state === "held" ? "Held: only you see it until you send it." : "Pinned.");
  if (draft.note) undoable(state, draft, note);
  dropDraft(draftKey(state.known, draft.note), draft.key);
  // It stands there at once; what else became of it is read.
  state.set({ note: note.id, notes: [...state.known.notes.filter((one) => one.id !== note.id), note] });
  return leaveDraft(state, ["notes", "page"]);
}

/** Drawn on a picture that was withdrawn since; or a note that is there already was moved on one that is not the page's own. */
function isLost(draft, { page, revisions }) {
  if (draft.note) return movedOf(draft).length > 0 && draft.revision !== page.current_revision?.id;
  return Boolean(draft.region) && !revisions.some((one) => one.id === draft.revision && !one.withdrawn_at);
}

/** A note that was moved or said otherwise can be brought back as it was. */
function undoable(state, draft, now) {
  const before = { body: draft.note.body, tone: draft.note.tone, ...standing(draft.note) };
  offerUndo("Changed.", () => changeAsWritten({ ...draft, note: now, ...before }), () => load(state));
}

function fieldsOf(draft, held) {
  const fields = { body: draft.body.trim(), tone: draft.tone, held, ...(draft.criterion ? { criterion: draft.criterion } : {}) };
  if (!draft.region) return { ...fields, scope: draft.scope === "spread" ? "spread" : "page" };
  return { ...fields, region: draft.region, ...(draft.lines.length ? { lines: draft.lines } : {}), revision: draft.revision };
}
