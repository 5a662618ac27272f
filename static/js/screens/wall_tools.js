import { button, h } from "../elements/h.js";
import { moreButton } from "../elements/more.js";
import { boardNoteDialog, comicDialog, pageDialog, paperDialog, peopleDialog, sheetDialog, uploadMany } from "./dialogs_of_comic.js";

/** What one may do on the Wall, in words. */
export function wallTools(state, reload, place) {
  const { may, board, order } = state.known;
  const setOrder = async () => state.set({ order: order ? null : await import("./wall_order.js") });
  if (order) {
    return [
      h("p", { class: "quiet" }, "Drag a page by its grip, or press arrow keys on it."),
      button("Close all gaps", () => order.closeAllGaps(state, reload), { class: "button always", "data-key": "close-gaps" }),
      button("Laid aside", () => order.showLaidAside(state, reload), { class: "button always", "data-key": "laid-aside" }),
      button("Done", setOrder, { class: "button first always", "data-key": "order" }),
    ];
  }
  return [
    h("a", { class: "button first always", href: `/boards/${board.id}/read`, "data-key": "read" }, "Read"),
    may.draw && button("Upload pages", () => uploadMany(state.known, reload), { "data-key": "upload-many", class: "button always" }),
    may.add_pages && button("Add a page", () => pageDialog(state, reload), { "data-key": "add-page" }),
    may.draw && button("Cut a sheet", () => sheetDialog(state, reload), { "data-key": "sheet" }),
    may.run_board && button("Order pages", setOrder, { "data-key": "order" }),
    (may.review || may.run_board) && button("Note on the comic", () => boardNoteDialog(state), { "data-key": "board-note" }),
    button("Take along", () => paperDialog(state.known.board), { "data-key": "paper" }),
    may.change_board && button("This comic", () => comicDialog(state, reload), { "data-key": "comic" }),
    button("People", () => peopleDialog(state), { "data-key": "people" }),
    moreButton(place, "More for this board"),
  ].filter(Boolean);
}
