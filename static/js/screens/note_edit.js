import { dropDraft, readDraft } from "../elements/drafts.js";
import { draftKey, placeWords, plain } from "./desk_draft.js";

/** A note that is there already is written anew, with what was typed before and not saved. */
export function editNote(state, note) {
  const { known } = state;
  const [asItStands, kept] = [{ tone: note.tone, body: note.body }, plain(readDraft(draftKey(known, note)))];
  const draft = { note, ...asItStands, ...kept, ...standing(note), scope: note.scope, revision: known.revision?.id };
  state.set({ draft: { ...draft, scopeWords: placeWords(known, draft) } });
  if (!kept.body || (kept.body === note.body && kept.tone === note.tone)) return;
  import("./draft_again.js").then((drafts) => drafts.tell(state, "What you had written here and not saved is here again.", ["As it stood", () => {
    dropDraft(draftKey(known, note));
    state.set({ draft: { ...known.draft, ...asItStands } });
  }]));
}

/** Where a note stands now. */
export const standing = (note) => ({ region: note.here?.region ?? note.region, lines: note.here?.lines ?? note.lines });
