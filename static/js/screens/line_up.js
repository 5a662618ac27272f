import { castOf, removeCharacter } from "../api/figures.js";
import { askFirst } from "../elements/dialog.js";
import { button, h, swap, word } from "../elements/h.js";
import { lineUpRow } from "../elements/line_up_row.js";
import { attempt } from "../elements/slips.js";
import { asOnPage, heightsTold } from "../geometry/cast_sizes.js";
import { characterSight } from "./character_sight.js";
import { characterDialog } from "./character_dialog.js";
import { keepReading } from "./keep_reading.js";
import { mergeCharactersDialog } from "./merge_characters_dialog.js";
import { modelSheetDialog } from "./model_sheet_dialog.js";
import { State } from "./state.js";

const shell = JSON.parse(document.getElementById("shell").textContent);
const at = (id) => document.getElementById(id);
const state = new State({ ...shell, cast: null });
const mayKeep = shell.may.keep_cast;
const load = keepReading({
  board: shell.board.id, lastEvent: shell.last_event, kinds: /^(character|model-sheet|check|reference)/,
  read: () => castOf(shell.board.id), show: (cast) => state.set({ cast }),
});

state.on(["cast"], ({ cast }) => {
  if (!cast) return;
  at("row").setAttribute("aria-busy", "false");
  const grown = cast.map((one) => asOnPage(one, Infinity)); // as their newest sheets show them
  swap(at("row"), grown.some((one) => one.height_m) ? lineUpRow(grown) : teach(cast));
  swap(at("cast"), cast.length > 0 && castTable(cast));
});
swap(at("line-up-tools"),
  mayKeep && button("Add a character", () => characterDialog(state, null, load), { class: "button first", "data-key": "add-character" }),
  button("Print", () => print(), { "data-key": "print" }));

const teach = (cast) => h("p", { class: "quiet" }, cast.length
  ? "Nobody in the cast has a height yet. Give each one theirs, and they stand here side by side."
  : ["The cast is empty. ", mayKeep ? "Add its characters with their heights, and they stand here side by side" : "Once its characters are added with their heights, they stand here side by side", "; figures on the pages are measured against them."]);

function castTable(cast) {
  const head = ["Name", "Key", "Height", "Heads", "Age", ""].map((words) => h("th", { scope: "col" }, words || h("span", { class: "out-of-sight" }, "Changes")));
  return h("table", { class: "cast-table" }, h("caption", { class: "out-of-sight" }, "The cast"), h("thead", {}, h("tr", {}, head)), h("tbody", {}, cast.map((one) => castRow(one, cast))));
}

function castRow(one, cast) {
  const heads = one.head_count ? one.head_count.toFixed(1) : "no sheet marked";
  return h("tr", {}, h("th", { scope: "row" }, word(one.name, () => characterSight(one), { "aria-label": `${one.name}: heads over the pages, sheets and proportions` })), h("td", {}, h("kbd", {}, one.key.toUpperCase())),
    h("td", {}, heightsTold(one) || "not given"), h("td", {}, heads), h("td", {}, one.age_band || "not given"),
    h("td", {}, mayKeep && [
      word("Change", () => characterDialog(state, one, load), { "aria-label": `Change ${one.name}` }), " ",
      word("Sheets", () => modelSheetDialog(state, one, load), { "aria-label": `Model sheets of ${one.name}` }), " ",
      cast.length > 1 && [word("Merge", () => mergeCharactersDialog(one, cast, load), { "aria-label": `Merge another character into ${one.name}`, "data-key": `merge-${one.id}` }), " "],
      word("Remove", () => remove(one, cast), { "aria-label": `Remove ${one.name}` })]));
}

const goesAlong = ({ name, figures }) => (figures
  ? `With ${name} ${figures === 1 ? "goes the figure that is" : `go the ${figures} figures that are`} marked as it, what is marked on its model sheets, and its posts.`
  : `No figure is marked as ${name}. What is marked on its model sheets goes, and its posts.`);

function remove(one, cast) {
  const instead = cast.length > 1 ? " If it is another name of somebody in the cast, merge the two instead, and nothing that is marked goes." : "";
  askFirst(`Remove ${one.name}?`, `${goesAlong(one)} This cannot be taken back; the pictures of its sheets stay among the references.${instead}`,
    `Remove ${one.name}`, () => attempt(() => removeCharacter(one)).then(load));
}
