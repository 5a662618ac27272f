import { lookAtBoard } from "../api/last_looks.js";
import { followBoard } from "../api/live.js";
import { swap } from "../elements/h.js";
import { localTimes } from "../elements/local_times.js";
import { dropFiles } from "../gestures/drop_file.js";
import { uploadMany } from "./dialogs_of_comic.js";
import { State } from "./state.js";
import { filterIn } from "./wall_facts.js";
import { showFilter } from "./wall_filter.js";
import { load, reloader } from "./wall_load.js";
import { showSpreads } from "./wall_spreads.js";
import { showSum } from "./wall_sum.js";
import { wallTools } from "./wall_tools.js";

const at = (id) => document.getElementById(id);
const shell = JSON.parse(at("shell").textContent);
const state = new State({ ...shell, pages: null, row: null, boardNotes: [], noteAtHand: null, filter: filterIn(location.search), order: null, lastEvent: shell.last_event });
const reload = () => load(state);

showFilter(state, at("filter"), { seen: async () => {
  await lookAtBoard(shell.board.id, state.known.lastEvent);
  reload();
} });
showSpreads(state, at("spreads"), reload);
showSum(state, at("sum"));
// Few comics have such notes: what shows them comes with the first.
state.on(["boardNotes", "noteAtHand"], async ({ boardNotes }) => {
  if (boardNotes.length || !at("board-notes").hidden) (await import("./wall_notes.js")).showBoardNotes(state, at("board-notes"));
});
state.on(["row", "order"], () => swap(at("wall-tools"), ...wallTools(state, reload, at("wall-tools"))));

at("held")?.querySelector("button").addEventListener("click", async () => (await import("./send_held.js")).sendAll(state, () => {
  at("held").remove();
  reload();
}));
if (shell.may.draw) dropFiles(document.querySelector(".wall"), (files) => uploadMany(state.known, reload, files));
// From the first look on, what others do counts as new.
if (shell.last_look === null) lookAtBoard(shell.board.id, shell.last_event);
localTimes();
followBoard(shell.board.id, shell.last_event, reloader(state));
load(state);
