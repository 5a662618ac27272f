import { readBoard } from "../api/boards.js";
import { notesOnBoardItself } from "../api/notes.js";
import { pagesOfBoard, readPage } from "../api/pages.js";
import { letGo } from "../elements/let_go.js";
import { readingCame, readingFailed } from "../elements/readings.js";

/** More pages than these, and the whole list is read at once. */
const ONE_BY_ONE = 8;
// What happens on the board and shows on no page.
const ELSEWHERE = /^(sheet|reference|character|model-sheet|note|work|stage|figure)/;

/** Which reading the list, and each page read by itself since, came from: answers overtake each other, and an older one must not undo a newer. */
const shownFrom = { list: 0, notes: 0, pages: new Map() };
const readings = { begun: 0 };
const isNewer = (reading, id) => reading > Math.max(shownFrom.list, shownFrom.pages.get(id) ?? 0);

/** Reads the board and its pages anew. */
export async function load(state) {
  const mine = ++readings.begun;
  try {
    const { id } = state.known.board;
    const [pages, row, boardNotes] = await Promise.all([pagesOfBoard(id), readBoard(id), notesOnBoardItself(id)]);
    await letGo();
    readingCame();
    if (mine < shownFrom.list) return;
    const known = new Map((state.known.pages ?? []).map((page) => [page.id, page]));
    const newest = pages.map((page) => ((shownFrom.pages.get(page.id) ?? 0) > mine ? known.get(page.id) ?? page : page));
    shownFrom.list = mine;
    state.set({ pages: newest, row });
    showNotes(state, boardNotes, mine);
  } catch (error) {
    readingFailed(error, "wall", () => load(state));
  }
}

/** What is said of the comic as a whole. */
export async function readBoardNotes(state) {
  const mine = ++readings.begun;
  const boardNotes = await notesOnBoardItself(state.known.board.id).catch((problem) => {
    readingFailed(problem, "board notes", () => readBoardNotes(state));
    return null;
  });
  await letGo();
  if (boardNotes) showNotes(state, boardNotes, mine);
}

function showNotes(state, boardNotes, reading) {
  if (reading < shownFrom.notes) return;
  shownFrom.notes = reading;
  state.set({ boardNotes });
}

async function loadPages(state, ids) {
  const mine = ++readings.begun;
  const failed = [];
  const read = await Promise.all(ids.map((id) => readPage(id).catch((problem) => {
    if (problem.isUnanswered) failed.push({ id, problem });
    return null;
  })));
  await letGo();
  if (failed.length) readingFailed(failed[0].problem, `pages ${ids}`, () => loadPages(state, failed.map(({ id }) => id)));
  else readingCame();
  const fresh = new Map(read.filter((page) => page && !page.laid_aside_at && isNewer(mine, page.id)).map((page) => [page.id, page]));
  for (const id of fresh.keys()) shownFrom.pages.set(id, mine);
  const pages = (state.known.pages ?? []).map((page) => fresh.get(page.id) ?? page);
  const known = new Set(pages.map((page) => page.id));
  state.set({ pages: [...pages, ...[...fresh.values()].filter((page) => !known.has(page.id))].sort((a, b) => a.number - b.number) });
}

/** Gathers what a burst of changes touches, and reads just that. */
export function reloader(state, waitMs = 250) {
  const touched = new Set();
  const burst = { timer: null, isAll: false, isOfBoard: false };
  return ({ kind, page, number }) => {
    state.known.lastEvent = Math.max(state.known.lastEvent, number);
    if (page && !/^page-(laid-aside|brought-back)$/.test(kind)) touched.add(page);
    else if (!page && /^note/.test(kind)) burst.isOfBoard = true;
    else if (!page && ELSEWHERE.test(kind)) return;
    else burst.isAll = true;
    burst.timer ??= setTimeout(() => {
      burst.timer = null;
      const [ids, isAll, isOfBoard] = [[...touched], burst.isAll || touched.size > ONE_BY_ONE, burst.isOfBoard];
      touched.clear();
      Object.assign(burst, { isAll: false, isOfBoard: false });
      if (isAll) return load(state);
      if (isOfBoard) readBoardNotes(state);
      return ids.length ? loadPages(state, ids) : undefined;
    }, waitMs);
  };
}
