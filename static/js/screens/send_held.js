import { notesOfBoard, notesOfPage, sendHeld } from "../api/notes.js";
import { attempt, say } from "../elements/slips.js";
import { count } from "../elements/words.js";
import { load } from "./desk_load.js";
import { sendingDialog } from "./sending_dialog.js";

/**
 * What is held on other pages goes with it only when its holder says so; on pages that were laid aside, only from their own Desk.
 * @param {any} state @param {() => any} [again] reads anew what the screen shows of notes
 */
export async function sendAll(state, again = () => load(state, ["notes", "page"])) {
  const { board, page, pageId } = state.known;
  const reading = [notesOfBoard(board.id, "?state=held"), page?.laid_aside_at ? notesOfPage(pageId, "?state=held") : []];
  const held = (await attempt(() => Promise.all(reading)))?.flat();
  if (!held) return undefined;
  if (held.some((note) => note.page !== pageId)) return sendingDialog(held, state, (notes) => send(board, notes, again));
  return send(board, held, again);
}

async function send(board, held, again) {
  const answer = await attempt(() => sendHeld(board.id, held.map(({ id }) => id)));
  if (!answer) return;
  say(answer.sent.length ? `Sent together: ${count(answer.sent.length, "note")}.` : "You hold no note.");
  await again();
}
