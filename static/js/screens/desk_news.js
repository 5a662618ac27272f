import { say, whisper } from "../elements/slips.js";
import { nameOf } from "../elements/words.js";
import { isBusy, openMeasured } from "./desk_facts.js";

const DEEDS = {
  "note-pinned": "pinned a note", "notes-sent": "sent notes", "note-replied": "replied to the note", "note-answered": "answered the note",
  "note-settled": "settled the note", "note-stet": "let the note stand", "note-opened-again": "opened the note again", "note-changed": "changed the note",
  "page-hand-in": "handed this page in", "page-sign-off": "signed this page off", "page-send-back": "sent this page back", "revision-received": "uploaded a picture",
};

const PANEL_DEEDS = { "panel-hand-in": "handed in", "panel-sign-off": "signed off", "panel-send-back": "sent back" };
const NAMED_ONE_BY_ONE = 3;

/** What others do, and what is measured, is said to who cannot see it come in. @param {any[]} changes */
export function tellNews(changes, before, known) {
  const told = new Set(changes.filter((change) => change.actor && change.actor.id !== known.me.id).map((change) => wordsOf(change, known)).filter(Boolean));
  for (const words of told) whisper(words);
  const aside = changes.findLast((change) => change.kind === "page-laid-aside" && change.actor?.id !== known.me.id);
  if (aside && known.page.laid_aside_at) say(`${nameOf(aside.actor)} laid this page aside: it is not in the comic now. What you write is kept with it.`, { way: ["To the comic", () => location.assign(`/boards/${known.board.id}`)] });
  const found = openMeasured(known).filter((note) => !before.measured.has(note.id));
  if (found.length > NAMED_ONE_BY_ONE) whisper(`${found.length} new measured notes.`);
  else for (const note of found) whisper(`Measured${whereOf(note)}: ${note.finding?.label ?? note.check_label}.`);
  if (before.isBusy && !isBusy(known)) whisper("All is measured on this picture.");
}

const whereOf = (note) => (note.panel_order && !note.astray ? ` on panel ${note.panel_order}` : " on the page");

function wordsOf({ kind, actor, data }, { notes, panels }) {
  const panel = PANEL_DEEDS[kind] && panels.find((one) => one.id === data.panel);
  if (panel) return `${nameOf(actor)} ${PANEL_DEEDS[kind]} panel ${panel.order}.`;
  if (!DEEDS[kind]) return null;
  const note = notes.find((one) => one.id === data.note);
  const tone = note && kind === "note-pinned" ? ` (${note.tone})` : "";
  return `${nameOf(actor)} ${DEEDS[kind]}${tone}${note ? whereOf(note) : ""}.`;
}
