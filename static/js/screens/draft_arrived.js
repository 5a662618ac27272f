import { Problem, newKey } from "../api/http.js";
import { changeNote, notesOfPage, pinNote, readNote } from "../api/notes.js";
import { dropDraft, keepDraft } from "../elements/drafts.js";
import { say } from "../elements/slips.js";
import { changeDraft, draftKey, leaveDraft } from "./desk_draft.js";
import { standing } from "./note_edit.js";

const same = (one, other) => JSON.stringify(one) === JSON.stringify(other);

/**
 * Pins what is written. Where an answer was lost before and it is written otherwise now, the note that did arrive is changed: it
 * would stand there twice. @param {any} state @param {object} fields
 */
export async function pinOnce(state, fields) {
  const { draft, pageId, me } = state.known;
  if (draft.sent && !same(draft.sent.fields, fields)) {
    const arrived = arrivedAmong(await notesOfPage(pageId), draft, me);
    if (arrived) return changeAsWritten({ ...draft, note: arrived });
    changeDraft(state, { key: newKey(), sent: null });
  }
  changeDraft(state, { sent: { fields, after: Math.max(0, ...state.known.notes.map(({ id }) => id)) } });
  watchArrival(state);
  watched.isSending = true;
  try {
    const note = await pinNote(pageId, fields, draft.key);
    // Not before its draft is put away.
    setTimeout(() => { watched.isSending = false; });
    return note;
  } catch (problem) {
    watched.isSending = false;
    // It may have come in by the live line while its own answer was lost.
    queueMicrotask(() => takeArrived(state));
    throw problem;
  }
}

const watched = { isSending: false, state: null };

/** Takes note when what was sent without an answer comes in among the page's notes. */
export function watchArrival(state) {
  if (watched.state === state) return;
  watched.state = state;
  state.on(["notes"], () => takeArrived(state));
}

const arrivedAmong = (notes, { sent }, me) => notes.find((note) => note.id > sent.after && note.author?.id === me.id && note.body === sent.fields.body);

/** What is still written for new and turns out to stand there: it is done, or goes on as a change to it. */
function takeArrived(state) {
  const { draft, notes, me } = state.known;
  const note = !watched.isSending && draft?.sent && !draft.note && arrivedAmong(notes, draft, me);
  if (!note) return;
  dropDraft(draftKey(state.known), draft.key);
  if (draft.body.trim() === note.body) {
    leaveDraft(state);
    say("Your note had arrived before.");
  } else {
    const { tone, body } = draft;
    keepDraft(draftKey(state.known, note), { tone, body });
    state.set({ draft: { ...draft, note, sent: null } });
    say("Your note had arrived before. What you write now changes it.");
  }
}

/** The note as the draft has it; where it was answered or carried on meanwhile, on top of that. @returns {Promise<any>} the note */
export async function changeAsWritten(draft) {
  const { note, body, tone, ...drawn } = draft;
  const fields = { body: body.trim(), tone, ...Object.fromEntries(movedOf({ note, ...drawn }).map((name) => [name, drawn[name]])) };
  try {
    return await changeNote(note, fields);
  } catch (problem) {
    if (problem.status !== 412) throw problem;
    const now = await readNote(note.id);
    const isMoved = "region" in fields || "lines" in fields;
    if (same(...[now, note].map((one) => [one.body, one.tone, isMoved && standing(one)]))) return changeNote(now, fields);
    Object.assign(draft, { note: now, ...(isMoved ? {} : standing(now)) });
    throw new Problem({ detail: `This note was changed meanwhile, and says now: “${now.body}” Save once more to put yours in its place.` }, 412);
  }
}

export function movedOf({ note, ...drawn }) {
  const before = standing(note);
  return ["region", "lines"].filter((name) => drawn[name] && !same(drawn[name], before[name]));
}
