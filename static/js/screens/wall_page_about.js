import { membersOf } from "../api/boards.js";
import { changePage } from "../api/pages.js";
import { openDialog } from "../elements/dialog.js";
import { boxes, choice, field, form, ticked } from "../elements/field.js";
import { h } from "../elements/h.js";
import { attempt } from "../elements/slips.js";
import { nameOf } from "../elements/words.js";

const SPREAD = ["spread", "Two facing pages drawn as one picture; it takes two numbers"];
const OPENED = ["opened", "Students on this board may look on"];

/** Who draws a page, and what kind of page it is. */
export async function aboutPageDialog(page, state, reload) {
  const members = await attempt(() => membersOf(state.known.board.id));
  if (!members) return;
  const kinds = members.some(({ roles }) => roles.includes("student")) ? [SPREAD, OPENED] : [SPREAD];
  const now = [page.is_spread && "spread", page.is_open_to_students && "opened"].filter(Boolean);
  openDialog(`About page ${page.numbers.join("-")}`, (close) => {
    const element = form({}, async ({ drawn_by }) => {
      const is = ticked(element, "kind");
      const opened = kinds.includes(OPENED) ? { is_open_to_students: is.includes("opened") } : {};
      const fields = { drawn_by: drawn_by || null, is_spread: is.includes("spread"), ...opened };
      if (!(await attempt(() => changePage(page, fields), { onRefusal: reload }))) return;
      await reload(); // opened again at once, it shows what was saved
      close();
    },
      drawerField(members, page.drawn_by?.username),
      boxes("Kind", "kind", kinds, now),
      h("div", { class: "buttons" }, h("button", { class: "button first" }, "Save")));
    return element;
  });
}

/** Whose page it is: it waits for them, and a student draws on no other. */
export function drawerField(members, chosen = "") {
  const drawers = members.filter(({ roles }) => roles.some((role) => ["artist", "student"].includes(role)));
  return field("Drawn by", choice([["", "any artist of the board"], ...drawers.map(({ user }) => [user.username, nameOf(user)])], chosen ?? "", { name: "drawn_by" }),
    "It waits for them. A student draws on their own pages alone.");
}
