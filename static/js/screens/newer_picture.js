import { say } from "../elements/slips.js";
import { load } from "./desk_load.js";

const told = { revision: 0 };

/** Said once of each picture: whoever writes sees it when they like, and the note stays with the one that it is drawn on. */
export function tell(state, newer) {
  if (told.revision === newer.id) return;
  told.revision = newer.id;
  say("A newer picture is here. Your note stays on the one that you draw it on.", { way: ["See the newer one", () => {
    state.set({ shownRevision: newer.id });
    load(state, []);
  }] });
}
