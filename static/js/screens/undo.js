import { attempt, say } from "../elements/slips.js";
import { load } from "./desk_load.js";

const last = { undo: /** @type {(() => Promise<any>)|null} */ (null), slip: /** @type {Element|null} */ (null) };

/** Says what was done, with a way back: by the slip's button while it lies there, by the key until something else is done. */
export function offerUndo(state, words, undo) {
  last.slip?.remove();
  last.undo = undo;
  last.slip = say(words, { way: ["Undo (U)", () => undoLast(state, undo)] });
}

/** @param {() => Promise<any>} [undo] gives a text where something stood against it */
export async function undoLast(state, undo = last.undo) {
  if (!undo || undo !== last.undo) return say("There is nothing to undo.");
  last.undo = null;
  last.slip?.remove();
  const answer = await attempt(undo, { onRefusal: () => load(state) });
  if (answer === undefined) return undefined;
  say(typeof answer === "string" && answer ? answer : "Undone.");
  return load(state);
}
