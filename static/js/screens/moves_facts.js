/** Questions about the moves of a page or of a panel; no element is touched here. */
import { STAGES, count } from "../elements/words.js";

/** What a move is about. All else of a page or a panel may change meanwhile: its words, its number, its still. */
const MATTERS = {
  pages: ["stage", "handed_in_at", "finished_at", "laid_aside_at"],
  panels: ["sent_back_to", "handed_in_at", "chosen_alternate", "is_gone"],
};

/** @param {"pages"|"panels"} kind */
export const isMovedSince = (kind, before, now) => MATTERS[kind].some((name) => before[name] !== now[name]);

/** How it stands now, for somebody who saw it stand otherwise. @param {"pages"|"panels"} kind */
export function movedWords(kind, row) {
  const stands = kind === "panels"
    ? (row.sent_back_to ? `sent back to ${row.sent_back_to}${row.handed_in_at ? ", handed in again" : ""}` : "not sent back, and moves with its page")
    : `at ${row.stage}, ${{ nobody: "finished", reviewer: "handed in", artist: "with the artist" }[row.waits_for]}`;
  return `Changed meanwhile: now it is ${stands}.`;
}

/**
 * A picture that came since is looked at first; and one that was still on its way then, before it is signed off.
 * @param {{id: number, state: string}|null} seen the page's picture as the moves were opened
 * @param {{id: number, number: number, state: string}|null} own the page's picture now
 */
export function withPicture(one, seen, own) {
  const isUnseen = own?.id !== seen?.id || (one.move === "sign-off" && own?.state === "ready" && seen?.state !== "ready");
  if (!own || !isUnseen || (one.refusal && one.refusal.code !== "checks-running")) return one;
  return { ...one, refusal: { code: "another-picture", reason: `Revision ${own.number} is the page's picture by now. Look at it first.` } };
}

/**
 * Sends a move; where only something else was changed meanwhile, once more on what was read anew.
 * @param {{rowNow: () => any, isAsSeen: () => boolean, send: (row: any) => Promise<any>, readAnew: () => Promise<any>}} desk
 * @returns {Promise<any>} null where what the move is about was changed
 */
export async function moveAsSeen({ rowNow, isAsSeen, send, readAnew }) {
  try {
    return await send(rowNow());
  } catch (problem) {
    if (problem.status !== 412) throw problem;
    await readAnew();
    return isAsSeen() ? send(rowNow()) : null;
  }
}

export const heldWords = ({ length }, kind) =>
  `You hold ${count(length, "note")} ${kind === "pages" ? "on this page" : "in this panel"}: send ${length === 1 ? "it" : "them"} along`;

/** A must note that goes along is open then, and would stand against a sign-off. */
export function withHeld(one, held) {
  const stands = one.move === "sign-off" && !one.refusal && held.some((note) => note.tone === "must");
  return stands ? { ...one, refusal: { code: "held-must", reason: "You hold a must note. Sent along, it has to be dealt with first." } } : one;
}

export const upTo = (stage) => STAGES.slice(0, STAGES.indexOf(stage) + 1);

/** What the artist has already can still be sent back further: to an earlier stage. */
export function further(one, stage) {
  const earlier = upTo(stage).slice(0, -1);
  const goesFurther = one.move === "send-back" && one.refusal?.code === "not-handed-in" && earlier.length > 0;
  return goesFurther ? { ...one, refusal: null, stages: earlier } : one;
}

/** Measured notes hold nothing back; who signs off should know of them all the same. */
export const measuredOpen = ({ kind, row, state }) =>
  state.known.notes.filter((one) => one.source === "measured" && one.state === "open" && (kind === "pages" || one.panel === row.id)).length;

export function openWords({ must, other, answered }, measured) {
  const parts = [must && `${must} must`, other && `${other} other`].filter(Boolean).join(" and ");
  const first = parts ? `Still open: ${parts}.` : `No note${measured ? " by a person" : ""} is open.`;
  return [first, answered && `Answered and not settled: ${answered}.`, measured && `Measured and still open: ${measured}.`].filter(Boolean).join(" ");
}
