import { membersOf } from "../api/boards.js";
import { changePage, readPage } from "../api/pages.js";
import { RowEdit } from "../api/row_edit.js";
import { boxes } from "../elements/boxes.js";
import { openDialog } from "../elements/dialog.js";
import { choice, field, form } from "../elements/field.js";
import { h } from "../elements/h.js";
import { keepFields } from "../elements/keep_fields.js";
import { attempt } from "../elements/slips.js";
import { nameOf } from "../elements/words.js";

const SPREAD = ["is_spread", "Two facing pages drawn as one picture; it takes two numbers"];
const OPENED = ["is_open_to_students", "Students on this board may look on"];

/** Who draws a page, and what kind of page it is. */
export async function aboutPageDialog(page, state, reload) {
  const members = await attempt(() => membersOf(state.known.board.id));
  if (!members) return;
  const kinds = members.some(({ roles }) => roles.includes("student")) ? [SPREAD, OPENED] : [SPREAD];
  const drawer = drawerField(members, page.drawn_by?.username);
  const kind = boxes("Kind", "kind", kinds, kinds.map(([name]) => name).filter((name) => page[name]));
  const controls = Object.fromEntries([["drawn_by", drawer.querySelector("select")], ...[...kind.querySelectorAll("input")].map((box) => [box.value, box])]);
  const told = h("div", { role: "status" });
  const edit = new RowEdit(page, {
    send: (row, { drawn_by, ...rest }) => changePage(row, drawn_by === undefined ? rest : { ...rest, drawn_by: drawn_by || null }),
    read: ({ id }) => readPage(id),
    fieldsOf: ({ drawn_by, is_spread, is_open_to_students }) => ({ drawn_by: drawn_by?.username ?? "", is_spread, is_open_to_students }),
  });
  openDialog(`About page ${page.numbers.join("-")}`, (close) => form({}, async () => {
    const isKept = await keepFields(edit, controls, told);
    await reload(); // opened again at once, it shows what was saved
    if (isKept) close();
  },
    drawer, kind, told,
    h("div", { class: "buttons" }, h("button", { class: "button first" }, "Save"))));
}

/** Whose page it is: it waits for them, and a student draws on no other. */
export function drawerField(members, chosen = "") {
  const drawers = members.filter(({ roles }) => roles.some((role) => ["artist", "student"].includes(role)));
  return field("Drawn by", choice([["", "any artist of the board"], ...drawers.map(({ user }) => [user.username, nameOf(user)])], chosen ?? "", { name: "drawn_by" }),
    "It waits for them. A student draws on their own pages alone.");
}
