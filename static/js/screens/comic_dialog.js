import { changeBoard } from "../api/boards.js";
import { call } from "../api/http.js";
import { boxes, ticked } from "../elements/boxes.js";
import { openDialog } from "../elements/dialog.js";
import { choice, field, form } from "../elements/field.js";
import { h } from "../elements/h.js";
import { attempt } from "../elements/slips.js";
import { sizeFields, sizeIn } from "../elements/size_fields.js";
import { boundChoice } from "../elements/trim_sizes.js";
import { toleranceFields, tolerancesOf } from "./tolerance_fields.js";

/** What is set for the whole comic: its title, how it is read and printed, and what is measured on it. */
export async function comicDialog(state, reload) {
  const row = state.known.row;
  const checks = await attempt(() => call("GET", "/checks"));
  if (!checks) return;
  // Everything lies on the panels: they are found always.
  const optional = checks.filter((check) => check.id !== "panels");
  openDialog("This comic", (close) => {
    const element = form({}, async ({ title, reading, pages }) => {
      const chosen = ticked(element, "checks");
      const fields = {
        title: title.trim(), reading, is_bound: pages === "bound", ...sizeIn(element), own_tolerances: tolerancesOf(element),
        checks: chosen.length === optional.length ? null : chosen, put_away: ticked(element, "away").length > 0,
      };
      if (!(await attempt(() => changeBoard(row.id, fields), { done: "It is set so." }))) return;
      close();
      if (title.trim() !== row.title || reading !== row.reading || fields.is_bound !== row.is_bound) location.reload(); // the page itself carries them
      else reload();
    },
      field("Title of the comic", h("input", { name: "title", required: true, maxlength: "200", value: row.title })),
      field("It is read", choice([["ltr", "left to right"], ["rtl", "right to left"]], row.reading, { name: "reading" })),
      field("Its pages", boundChoice(row.is_bound)),
      sizeFields(row),
      boxes("Checks that run", "checks", optional.map((check) => [check.id, check.label]), row.checks),
      toleranceFields(checks, row.own_tolerances),
      h("p", { class: "hint" }, "What this changes is measured again, on every page. A check runs where another builds on it; what one said that does not run any more is taken back."),
      boxes("In the list of boards", "away", [["yes", "Put away: it stands behind the others, and is as it was"]], row.put_away_at ? ["yes"] : []),
      h("div", { class: "buttons" }, h("button", { class: "button first" }, "Save")));
    return element;
  }, { isWide: true });
}
