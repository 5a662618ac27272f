import { notesOfBoard, sendHeld } from "../api/notes.js";
import { attempt, say } from "../elements/slips.js";
import { count } from "../elements/words.js";
import { load } from "./desk_load.js";
import { sendingDialog } from "./sending_dialog.js";

/** What is held on other pages goes with it only when its holder says so. */
export async function sendAll(state) {
  const { board, pageId } = state.known;
  const held = await attempt(() => notesOfBoard(board.id, "?state=held"));
  if (!held) return undefined;
  if (held.some((note) => note.page !== pageId)) return sendingDialog(held, state, (notes) => send(state, notes));
  return send(state, held);
}

async function send(state, held) {
  const answer = await attempt(() => sendHeld(state.known.board.id, held.map(({ id }) => id)));
  if (!answer) return;
  say(answer.sent.length ? `Sent together: ${count(answer.sent.length, "note")}.` : "You hold no note.");
  await load(state, ["notes", "page"]);
}
