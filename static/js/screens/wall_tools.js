import { addPage } from "../api/pages.js";
import { openDialog } from "../elements/dialog.js";
import { boxes, field, form, ticked } from "../elements/field.js";
import { button, h } from "../elements/h.js";
import { attempt } from "../elements/slips.js";
import { paperDialog, peopleDialog, referencesDialog, sheetDialog, uploadMany } from "./dialogs_on_demand.js";

/** What one may do on the Wall, in words. */
export function wallTools(state, reload) {
  const { may } = state.known;
  return [
    may.add_pages && button("Add a page", () => pageDialog(state, reload), { class: "button first", "data-key": "add-page" }),
    may.draw && button("Upload pages", () => uploadMany(state.known, reload), { "data-key": "upload-many" }),
    may.draw && button("Cut a sheet", () => sheetDialog(state, reload), { "data-key": "sheet" }),
    h("a", { class: "button", href: `/boards/${state.known.board.id}/line-up`, "data-key": "line-up" }, "Line-up"),
    button("References", () => referencesDialog(state), { "data-key": "references" }),
    button("On paper", () => paperDialog(state.known.board), { "data-key": "paper" }),
    button("People", () => peopleDialog(state), { "data-key": "people" }),
  ].filter(Boolean);
}

function pageDialog(state, reload) {
  const taken = (state.known.pages ?? []).flatMap((page) => page.numbers);
  const next = Math.max(0, ...taken) + 1;
  openDialog("Add a page", (close) => {
    const element = form({}, async ({ number, happens }) => {
      const fields = { number: Number(number), happens, is_spread: ticked(element, "kind").includes("spread") };
      if (!(await attempt(() => addPage(state.known.board.id, fields), { done: `Page ${number} is on the Wall.` }))) return;
      close();
      reload();
    },
      field("Number", h("input", { name: "number", type: "number", min: "1", required: true, value: next, inputmode: "numeric" })),
      field("What happens on it", h("textarea", { name: "happens", rows: "3" }), "Plain words. They stand beside the page while it is judged."),
      boxes("Kind", "kind", [["spread", "Two facing pages drawn as one picture; it takes two numbers"]]),
      h("div", { class: "buttons" }, h("button", { class: "button first" }, "Add it")));
    return element;
  });
}
