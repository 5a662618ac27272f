import { correctPanels } from "../api/pages.js";
import { openDialog } from "../elements/dialog.js";
import { choice, field, form } from "../elements/field.js";
import { h } from "../elements/h.js";
import { attempt } from "../elements/slips.js";
import { panelsShown } from "./desk_facts.js";
import { load } from "./desk_load.js";
import { begun, bodyOf } from "./panels_edit_model.js";

/** A panel that the picture shown does not have, though somebody knows it there: it takes the place of the one that was found. */
export function lostPanelDialog(lost, state) {
  const shown = panelsShown(state.known);
  const bare = shown.find(({ row }) => row && !row.happens && !row.said);
  const options = shown.map(({ id, order, row }) => [id, `Panel ${order}${row?.happens || row?.said ? "" : ", nothing written"}`]);
  openDialog(`Which panel of the picture is panel ${lost.order}?`, (close) => form({}, async ({ panel }) => {
    const { revision, page } = state.known;
    const { panels, version } = begun(revision, page.version);
    const body = bodyOf({ panels: panels.map((one) => (one.id === Number(panel) ? { ...one, id: lost.id } : one)) });
    if (!(await attempt(() => correctPanels(revision.id, body, version), { onRefusal: () => load(state, ["page", "revision"]) }))) return;
    close();
    load(state);
  },
    h("p", {}, lost.happens || lost.said),
    field("Panel of the picture", choice(options, bare?.id, { name: "panel" }),
      "Its words, its still and its notes go on there. What is written in the panel found there goes below, with what is not on the picture."),
    h("div", { class: "buttons" }, h("button", { class: "button first" }, "It is this one"))));
}
