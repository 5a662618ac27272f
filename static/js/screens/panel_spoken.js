import { whisper } from "../elements/slips.js";
import { count } from "../elements/words.js";
import { isOfPicture, panelsShown } from "./desk_facts.js";

/** What the eye sees of a panel that was taken up by a key. */
export const tellPanel = (known, panel) => whisper(panelWords(known, panel));

/** Its place, what is open in it, and its words. */
export function panelWords(known, panel) {
  const open = known.notes.filter((note) => note.panel === panel.id && note.state === "open" && isOfPicture(note, known));
  const people = open.filter((note) => note.source === "person").length;
  const notes = [people && count(people, "open note"), open.length > people && count(open.length - people, "measured note")].filter(Boolean).join(" and ");
  const { sent_back_to, happens, said } = panel.row ?? {};
  return [`Panel ${panel.order} of ${panelsShown(known).length}${notes && `, with ${notes}`}.`, sent_back_to && `Sent back to ${sent_back_to}.`, happens, said].filter(Boolean).join(" ");
}
