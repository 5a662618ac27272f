import { count } from "../elements/words.js";
import { openNotes } from "./wall_facts.js";

/** What the comic comes to, in one line. It is read out whenever it is written, so it is written when it changes. */
export function showSum(state, place) {
  state.on(["pages", "boardNotes"], ({ pages, boardNotes }) => {
    const words = pages && sumOf(pages, boardNotes);
    if (words && words !== place.textContent) place.textContent = words;
  });
}

function sumOf(pages, boardNotes) {
  const waiting = pages.filter((page) => page.waits_for === "reviewer").length;
  const finished = pages.filter((page) => page.waits_for === "nobody").length;
  const open = pages.reduce((sum, page) => sum + openNotes(page), boardNotes.filter((note) => note.state === "open").length);
  const measured = pages.reduce((sum, page) => sum + page.open_notes.measured, 0);
  const parts = [count(pages.length, "page"), `${finished} finished`, waiting && `${waiting} handed in`, count(open, "open note"), measured && `${measured} measured`];
  return parts.filter(Boolean).join(", ");
}
