import { bringBack, withdraw } from "../api/pages.js";
import { askFirst } from "../elements/dialog.js";
import { attempt } from "../elements/slips.js";
import { load } from "./desk_load.js";

/** A revision is shown no more, and the one before it is the page's picture again. */
export function hide(revision, state) {
  askFirst("Withdraw this revision?", "It is kept, and no longer shown; the one before it is the page's picture again. You can bring it back.", "Withdraw it",
    () => attempt(() => withdraw(revision.id), { done: "Withdrawn." }).then(() => {
      state.set({ shownRevision: null });
      load(state);
    }));
}

export const show = (revision, state) => attempt(() => bringBack(revision.id), { done: "It is shown again." }).then(() => load(state));
