import { readDraft } from "../elements/drafts.js";
import { draftKey, placeWords, plain } from "./desk_draft.js";

/** A note that is there already is written anew, with what was typed before and not saved. */
export function editNote(state, note) {
  const { known } = state;
  const said = { tone: note.tone, body: note.body, ...plain(readDraft(draftKey(known, note))) };
  const draft = { note, ...said, ...standing(note), scope: note.scope, revision: known.revision?.id };
  state.set({ draft: { ...draft, scopeWords: placeWords(known, draft) } });
}

/** Where a note stands now. */
export const standing = (note) => ({ region: note.here?.region ?? note.region, lines: note.here?.lines ?? note.lines });
