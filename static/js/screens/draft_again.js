import { dropDraft, readDraft } from "../elements/drafts.js";
import { say } from "../elements/slips.js";
import { beginDraft, changeDraft, draftKey, leaveDraft } from "./desk_draft.js";
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
  if (kept.sent) (await import("./draft_arrived.js")).watchArrival(state);
  // From now on it is the note that the Desk stays with.
  state.set({ shownRevision: null });
  const words = isDrawn || !kept.region ? "The note that you had not sent is here again." : "The words of a note that you had not sent are here again; its picture is gone.";
  tell(state, words, ["Drop it", () => dropDraftAtHand(state)]);
}

const told = { slip: null, listens: false };

/** Said of the note being written: with it the slip goes, so that its way leads into no other. */
export function tell(state, words, way) {
  told.slip?.remove();
  told.slip = say(words, { way });
  if (!told.listens) state.on(["draft"], ({ draft }) => draft || told.slip.remove());
  told.listens = true;
}

function dropDraftAtHand(state) {
  dropDraft(draftKey(state.known, state.known.draft?.note));
  leaveDraft(state);
}

/** @param {any} state @param {{region?: any}} fields where the note was asked for just now */
export const tellDrawnAgain = (state, { region = null }) =>
  tell(state, "What you had drawn is here again.", ["Leave it out", () => changeDraft(state, { region, lines: [] })]);

/** Lines that were put away are on the page again when one goes on to draw. */
export function takeUpLines(state) {
  const { known } = state;
  const kept = known.draft ? null : readDraft(draftKey(known));
  if (kept?.lines?.length && kept.revision === known.revision.id) beginDraft(state, {}, { takesFocus: false, goesOn: true });
}
