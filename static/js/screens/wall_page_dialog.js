import { membersOf } from "../api/boards.js";
import { addPage } from "../api/pages.js";
import { boxes, ticked } from "../elements/boxes.js";
import { openDialog } from "../elements/dialog.js";
import { field, form } from "../elements/field.js";
import { h } from "../elements/h.js";
import { attempt } from "../elements/slips.js";
import { drawerField } from "./wall_page_about.js";

/** A page that is not drawn yet: at the end, or with this number before the one that has it. */
export async function pageDialog(state, reload, before = null) {
  const taken = (state.known.pages ?? []).flatMap((page) => page.numbers);
  const next = Math.max(0, ...taken) + 1;
  const { may, board } = state.known;
  // Who draws it is for those to say who answer for the comic.
  const members = may.run_board ? await attempt(() => membersOf(board.id)) : null;
  openDialog(before === null ? "Add a page" : `A page before page ${before}`, (close) => {
    const element = form({}, async ({ number, happens, drawn_by }) => {
      const room = ticked(element, "room").length > 0 ? { make_room: true } : {};
      const fields = { number: Number(number), happens, is_spread: ticked(element, "kind").includes("spread"), ...room, ...(drawn_by && { drawn_by }) };
      if (!(await attempt(() => addPage(board.id, fields), { done: `Page ${number} is on the Wall.` }))) return;
      close();
      reload();
    },
      field("Number", h("input", { name: "number", type: "number", min: "1", required: true, value: before ?? next, inputmode: "numeric" })),
      may.run_board && boxes("Where the number is taken", "room", [["yes", "The page that has it and all after it move on"]], before === null ? [] : ["yes"]),
      field("What happens on it", h("textarea", { name: "happens", rows: "3" }), "Plain words. They stand beside the page while it is judged."),
      members && drawerField(members),
      boxes("Kind", "kind", [["spread", "Two facing pages drawn as one picture; it takes two numbers"]]),
      h("div", { class: "buttons" }, h("button", { class: "button first" }, "Add it")));
    return element;
  });
}
