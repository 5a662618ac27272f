import { h, swap, word } from "../elements/h.js";
import { say } from "../elements/slips.js";
import { placeWords } from "./desk_draft.js";
import { heldPicture, panelOfTry } from "./desk_facts.js";
import { load } from "./desk_load.js";

const told = { revision: 0, slip: null, isLost: false };

/** Beside the page's number: which of its pictures lies here, and where that is not its own, the way back to it. */
export function showHead(state, place) {
  let shown = place.textContent.trim();
  state.on(["page", "revision", "panels"], (known) => {
    const { page, revision } = known;
    const own = page.current_revision;
    const isOther = Boolean(revision) && revision.id !== own?.id;
    const way = isOther && own ? `Show revision ${own.number}` : "";
    const words = whichWords(known);
    // It is read out when it changes, and not whenever the page is read.
    if (shown === words + way) return;
    shown = words + way;
    place.classList.toggle("is-other", isOther);
    swap(place, h("span", {}, words), way && word(way, () => showOwn(state), { "data-key": "show-own" }));
  });
  state.on(["page", "draft", "edit"], (known) => tellOfNewer(state, heldPicture(known), known.page.current_revision));
  state.on(["revisions", "draft"], () => tellOfLost(state));
}

/** "pencil, revision 4", and what is the matter with it where it is not the page's own picture now. */
export function whichWords({ page, revision, panels = [], lost = [] }) {
  const aside = page.laid_aside_at && "laid aside: not in the comic";
  if (!revision) return [`${page.stage}, no picture yet`, aside].filter(Boolean).join(", ");
  const isOwn = revision.id === page.current_revision?.id;
  const letter = revision.panel ? `try ${revision.alternate} at ${panelOfTry(revision, { panels, lost })}` : revision.alternate !== (isOwn ? "A" : page.chosen_alternate) && `alternate ${revision.alternate}`;
  const other = revision.withdrawn_at ? "withdrawn" : revision.state === "refused" ? "refused" : letter ? "" : "not the page's own now";
  return [`${revision.stage}, revision ${revision.number}`, letter, !isOwn && other, aside].filter(Boolean).join(", ");
}

/** The page's own picture, also for somebody who draws on another one meanwhile. */
export function showOwn(state) {
  state.set({ shownRevision: heldPicture(state.known) ? state.known.page.current_revision.id : null });
  return load(state, []);
}

/** Said once of each: whoever draws a note sees it when they like, and what they do stays with the picture that they do it on. */
function tellOfNewer(state, held, newer) {
  if (!held) told.slip?.remove();
  if (!held || state.known.shownRevision || newer?.state !== "ready" || [held, told.revision].includes(newer.id)) return;
  told.revision = newer.id;
  if (state.known.edit) told.slip = say("A newer picture is here. You correct the panels of the one before; when that is kept, the newer one comes.");
  else told.slip = say("A newer picture is here. Your note stays on the one that you draw it on.", { way: ["See the newer one", () => showOwn(state)] });
}

/** The picture that a note is drawn on was withdrawn, or is back: said where the note says what it stands on, and not only as it is sent. */
export function tellOfLost(state) {
  const { known } = state;
  const { draft, revisions } = known;
  const isLost = Boolean(draft?.region && !draft.note) && revisions.some((one) => one.id === draft.revision && one.withdrawn_at);
  if (isLost === told.isLost) return;
  told.isLost = isLost;
  if (isLost) say("The picture that you draw your note on was withdrawn. Its words stay.");
  if (draft) state.set({ draft: { ...draft, scopeWords: isLost ? "Drawn on a picture that was withdrawn. Draw it on the one that is here." : placeWords(known, draft) } });
}
