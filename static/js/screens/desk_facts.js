/** Questions about what the Desk knows; no element is touched here. */
import { isClosed } from "../elements/words.js";
import { bounds, contains, middleOf } from "../geometry/page_space.js";

/** Where a note stands on the revision that is shown; null for a note on the page as a whole or on a revision not shown. */
export function regionOn(note, { page, revision }) {
  if (!revision) return null;
  if (revision.id === page.current_revision?.id && note.here) return note.here.region;
  return note.revision === revision.id ? note.region : null;
}

/** The picture that lies there for the eye: while a newer one is read or fetched, still the one before. */
export const pictureOf = ({ pictured, revision }) => (revision ? (pictured ?? revision.id) : null);

/**
 * The picture that a note is being drawn on, or whose panels are being corrected: the Desk stays with it, as long as it is not withdrawn.
 * Words alone go along to a newer one.
 */
export function heldPicture({ draft, edit, revisions }) {
  const isDrawn = draft && !draft.note && (draft.region || draft.lines.length);
  const held = edit?.revision ?? (isDrawn ? draft.revision : null);
  return revisions.some((one) => one.id === held && !one.withdrawn_at) ? held : null;
}

/** The note being written, where what it marks and draws lies on the picture that is shown. */
export const draftHere = ({ draft, revision }) => (draft?.note || draft?.revision === revision?.id ? draft : null);

/** Whether the number of its panel is one of the picture that is shown. */
export const isOfPicture = (note, { page, revision }) => (revision?.id === page?.current_revision?.id ? !note.astray : note.revision === revision?.id);

/** The finding's own drawing, where it belongs to the revision that is shown. */
export const evidenceOn = (note, { revision }) =>
  note.finding && (note.finding.revision === revision?.id || !note.finding.revision) ? note.finding.geometry : null;

/** The panels of the revision shown, in reading order, each with its words. */
export function panelsShown({ revision, panels }) {
  const known = new Map(panels.map((panel) => [panel.id, panel]));
  return (revision?.panels ?? [])
    .map((shape) => ({ ...known.get(shape.id), ...shape, row: known.get(shape.id) }))
    .sort((a, b) => a.order - b.order);
}

/** Where a panel stands that does not move with its page; "" for one that does. */
export const ownState = (row) => (!row?.sent_back_to ? "" : row.handed_in_at ? "handed in" : "sent back");

/** What a try shows: "panel 2"; one that is not on the page any more has no number of its own. */
export function panelOfTry({ panel }, { panels, lost }) {
  const row = panels.find((one) => one.id === panel);
  return row ? `panel ${row.order}` : lost.some((one) => one.id === panel) ? "a panel that is gone" : "one panel";
}

/** Those that the board knows: what a panel's own dialogs are about. */
export const panelsKnown = (known) => panelsShown(known).filter(({ row }) => row);

/** The smallest panel over a point of the page: an inset lies over the panel around it. */
export function panelAt(known, point) {
  const holding = panelsShown(known).filter((panel) => contains(panel.polygon, point));
  const size = ([left, top, right, bottom]) => (right - left) * (bottom - top);
  return holding.sort((a, b) => size(bounds(a.polygon)) - size(bounds(b.polygon)))[0] ?? null;
}

/** The notes that are listed: closed ones only when asked for, or when one of them is at hand. */
export function notesListed(known) {
  const shown = known.notes.filter((note) => known.showsClosed || !isClosed(note) || note.id === known.note);
  const places = new Map(shown.map((note) => [note, placeOf(note, known)]));
  return shown.sort((a, b) => places.get(a) - places.get(b) || a.id - b.id);
}

/** Reading order: notes on the page first, then by panel, then from top to bottom; last those that lie on another picture. */
function placeOf(note, known) {
  const region = regionOn(note, known);
  const order = note.astray ? 999 : (note.panel_order ?? (region ? 500 : 0));
  return order * 1000 + (region ? middleOf(region)[1] * 999 : 0);
}

export const heldNotes = ({ notes, me }) => notes.filter((note) => note.state === "held" && note.author?.id === me.id);

/** Whoever may settle a note is asked first about those whose spot was drawn anew, until they said: not yet. */
export const isAskedFirst = (note, known) =>
  note.spot === "changed" && Boolean(note.may?.settle) && isWaiting(note) && !known.notYet?.includes(notYetWord(note, known));

/** Said of a note on the page's picture of now: the next revision asks again. */
export const notYetWord = (note, { page }) => `${note.id} on ${page?.current_revision?.id}`;
export const notYetKey = ({ pageId, me }) => `not yet, page ${pageId}, member ${me.id}`;

const isWaiting = (note) => ["open", "answered"].includes(note.state);

/** The next note that waits for somebody, after the one at hand; those to be asked about come first. */
export function nextOpen(known, step = 1) {
  const waiting = notesListed(known).filter(isWaiting);
  const asked = waiting.filter((note) => isAskedFirst(note, known));
  const open = [...asked, ...waiting.filter((note) => !asked.includes(note))];
  const at = open.findIndex((note) => note.id === known.note);
  return open.length ? open[(at + step + open.length) % open.length] : null;
}

/** Where one goes on from a note that is dealt with: the others that are asked about come first, whichever side of it they stand. */
export function nextToDealWith(known, note) {
  const asked = notesListed(known).filter((one) => one.id === note.id || isAskedFirst(one, known));
  const after = asked.slice(asked.findIndex((one) => one.id === note.id) + 1);
  const next = after[0] ?? asked[0];
  if (next && next.id !== note.id) return next;
  const open = nextOpen({ ...known, note: note.id });
  return open && open.id !== note.id ? open : null;
}

/** Checks of the shown revision that are still at work. */
export const atWork = ({ revision }) =>
  (revision?.checks ?? []).filter((check) => check.state === "queued" || check.state === "running");

/** The shown revision is not read and measured yet. */
export const isBusy = (known) => known.revision?.state === "received" || atWork(known).length > 0;

export const openMeasured = ({ notes }) => notes.filter((note) => note.source === "measured" && note.state === "open");

/** What one has to know from before a reading, to tell what came by it. */
export const knownBefore = (known) => ({ isBusy: isBusy(known), measured: new Set(openMeasured(known).map((note) => note.id)) });

/** [order, why] of the panels that a check measured nothing in, as they are read: silence is not a pass. */
export const silentOf = ({ numbers }, { panels }) =>
  panels.map(({ id, order }) => [order, numbers?.not_measured?.[id]]).filter(([, why]) => why).sort(([a], [b]) => a - b);
