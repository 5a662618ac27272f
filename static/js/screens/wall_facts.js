/** What a page on the Wall waits for, and which pages a person wants to see. No element is touched here. */

/**
 * @typedef {{stage: string, waits_for: "artist"|"reviewer"|"nobody", drawn_by: {id: number, name?: string, username: string}|null,
 *   open_notes: Record<string, number>, answered_notes: number, panels_sent_back: number, panels_handed_in: number, new: Record<string, number>}} WallPage
 * @typedef {{stage: string, waits: string, notes: string, isNew: boolean}} Filter
 */
export const EVERYTHING = Object.freeze({ stage: "", waits: "", notes: "", isNew: false });
// What is to be kept asks for nothing.
const ASKING = ["must", "try", "ask"];

export const openNotes = (page) => ASKING.reduce((sum, tone) => sum + page.open_notes[tone], 0);
export const isNew = (page) => Object.values(page.new).some(Boolean);
export const isFiltered = (filter) => Object.entries(EVERYTHING).some(([name, value]) => filter[name] !== value);

/** Whose turn it is. A panel that was sent back waits for one of them on its own, wherever its page is. */
const turnsOf = ({ waits_for: waits, panels_sent_back: back, panels_handed_in: handedIn }) =>
  ({ artist: waits === "artist" || back > handedIn, reviewer: waits === "reviewer" || handedIn > 0 });

/** @returns {boolean} whether it is this person's turn */
export function waitsForMe(page, { me, may }) {
  const { artist, reviewer } = turnsOf(page);
  const { drawn_by: drawer } = page;
  return (reviewer && may.review) || (artist && may.draw && (drawer ? drawer.id === me.id : may.review || may.run_board));
}

/** "waits for you", "waits for Wim", "waits for a reviewer", "finished" */
export function waitingWords(page, known) {
  const { artist, reviewer } = turnsOf(page);
  if (!artist && !reviewer) return "finished";
  if (waitsForMe(page, known)) return "waits for you";
  if (!artist) return "waits for a reviewer";
  return page.drawn_by ? `waits for ${page.drawn_by.name || page.drawn_by.username}` : "waits for an artist";
}

/** "a pencil is kept for later" @param {{kept_ahead: string[]}} page */
export const aheadWords = ({ kept_ahead: stages }) => stages.map((stage) => `a ${stage} is kept for later`).join(", ");

/** "a new picture, 2 new notes"; "" where nothing is new */
export function newsWords({ new: news }) {
  const some = (n, one, many) => n && (n === 1 ? one : `${n} ${many}`);
  return [some(news.pictures, "a new picture", "new pictures"), some(news.notes, "a new note", "new notes"), some(news.moves, "moved on or back", "moves")]
    .filter(Boolean).join(", ");
}

/** @param {WallPage} page @param {Filter} filter */
export function fits(page, filter, known) {
  if (filter.stage && page.stage !== filter.stage) return false;
  const { artist, reviewer } = turnsOf(page);
  const turns = { me: () => waitsForMe(page, known), artist: () => artist, reviewer: () => reviewer, nobody: () => !artist && !reviewer };
  if (filter.waits && !turns[filter.waits]?.()) return false;
  if (filter.isNew && !isNew(page)) return false;
  const notes = {
    "": () => true, must: () => page.open_notes.must > 0, open: () => openNotes(page) > 0, answered: () => page.answered_notes > 0,
    measured: () => page.open_notes.measured > 0, "sent-back": () => page.panels_sent_back > 0, none: () => openNotes(page) + page.answered_notes === 0,
  };
  return (notes[filter.notes] ?? notes[""])();
}

/** As it stands in the address, so that it can be linked to and gone back to. @param {string} search @returns {Filter} */
export function filterIn(search) {
  const given = new URLSearchParams(search);
  return { stage: given.get("stage") ?? "", waits: given.get("waits") ?? "", notes: given.get("notes") ?? "", isNew: given.has("new") };
}

/** @param {Filter} filter */
export function filterAsSearch({ stage, waits, notes, isNew: onlyNew }) {
  const said = new URLSearchParams(Object.entries({ stage, waits, notes, new: onlyNew ? "1" : "" }).filter(([, value]) => value));
  return said.size ? `?${said}` : "";
}
