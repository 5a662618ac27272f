import { invitationsOf, invite, takeBackInvitation } from "../api/classes.js";
import { openDialog } from "../elements/dialog.js";
import { field, form } from "../elements/field.js";
import { h, swap } from "../elements/h.js";
import { linkRow } from "../elements/link_row.js";
import { attempt } from "../elements/slips.js";
import { count } from "../elements/words.js";

/** Links into the class: each ends, and can be taken back, also when the class is over and makes no new one. */
export function linksDialog(shell) {
  openDialog("Links into the class", () => {
    const list = h("ul", { class: "rows" });
    const show = async () => {
      const rows = await attempt(() => invitationsOf(shell.class.id));
      if (rows) swap(list, ...(rows.length ? rows.map((row) => linkRow(row, whomOf(row), () => takeBackInvitation(row.id).then(show))) : [h("li", {}, h("p", { class: "quiet" }, "No link is open."))]));
    };
    show();
    return [list, !shell.class.is_over && newLink(shell, show)];
  }, { isWide: true });
}

const whomOf = (row) => row.alias || row.name || row.username || `whoever has it, ${count(row.uses_left, "more time", "more times")}`;

function newLink(shell, show) {
  return form({}, async ({ uses, days }) => {
    if (await attempt(() => invite(shell.class.id, { uses: Number(uses), days: Number(days) }), { done: "The link is made; it stands in the list." })) show();
  },
    h("h3", {}, "A new link"),
    h("div", { class: "pair" },
      field("For so many students", h("input", { name: "uses", type: "number", min: "1", max: "500", value: "30" })),
      field("Holds for so many days", h("input", { name: "days", type: "number", min: "1", max: "90", value: "14" }))),
    h("div", { class: "buttons" }, h("button", { class: "button" }, "Make it")));
}
