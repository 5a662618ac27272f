import { dropDraft, readDraft } from "../elements/drafts.js";
import { say } from "../elements/slips.js";
import { beginDraft, draftKey, leaveDraft } from "./desk_draft.js";
import { load } from "./desk_load.js";

/** What was being written when the tab was closed is taken up where it stood: on the picture that it was drawn on. */
export async function takeUpDraft(state) {
  const { known } = state;
  const kept = readDraft(draftKey(known));
  if (!kept || kept.isPutAway || !known.may.write || known.draft || !(kept.body?.trim() || kept.lines?.length)) return;
  const isDrawn = Boolean(kept.region) && known.revisions.some((one) => one.id === kept.revision && one.state === "ready" && !one.withdrawn_at);
  if (isDrawn && kept.revision !== known.revision?.id) {
    state.set({ shownRevision: kept.revision });
    await load(state, []);
  }
  if (known.draft) return;
  const { region, lines = [], standsAround, scope, revision } = kept;
  beginDraft(state, isDrawn ? { region, lines, standsAround, scope, revision } : {}, { takesFocus: false });
  // From now on it is the note that the Desk stays with.
  state.set({ shownRevision: null });
  say(isDrawn || !kept.region ? "The note that you had not sent is here again." : "The words of a note that you had not sent are here again; its picture is gone.",
    { way: ["Drop it", () => dropDraftAtHand(state)] });
}

function dropDraftAtHand(state) {
  dropDraft(draftKey(state.known, state.known.draft?.note));
  leaveDraft(state);
}
