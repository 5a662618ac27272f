import { attempt, say } from "../elements/slips.js";

const last = { undo: /** @type {(() => Promise<any>)|null} */ (null), again: () => {}, slip: /** @type {Element|null} */ (null) };

/**
 * Says what was done, with a way back: by the slip's button while it lies there, by the key until something else is done.
 * @param {() => Promise<any>} undo gives a text where something stood against it
 * @param {() => any} again reads anew what the screen shows
 */
export function offerUndo(words, undo, again) {
  last.slip?.remove();
  Object.assign(last, { undo, again });
  last.slip = say(words, { way: ["Undo (U)", () => undoLast(undo)] });
}

/** @param {(() => Promise<any>)|null} [undo] of the slip that was clicked: another deed may have come after it */
export async function undoLast(undo = last.undo) {
  if (!undo || undo !== last.undo) return say("There is nothing to undo.");
  last.undo = null;
  last.slip?.remove();
  const answer = await attempt(undo, { onRefusal: last.again });
  if (answer === undefined) return undefined;
  say(typeof answer === "string" && answer ? answer : "Undone.");
  return last.again();
}
