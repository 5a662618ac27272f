import { measureAgain, untieStill } from "../api/pages.js";
import { button, h, word } from "../elements/h.js";
import { renditionFor } from "../elements/picture_part.js";
import { attempt } from "../elements/slips.js";
import { words } from "./desk_beside.js";
import { ownState, panelsKnown } from "./desk_facts.js";
import { load } from "./desk_load.js";
import { alternatesDialog, eyeLevelDialog, movesDialog, panelHistoryDialog, sameAsDialog, stillDialog, stillPlaceDialog, underlayDialog, uploadDialog, wordsDialog } from "./dialogs_on_demand.js";
import { markFigures } from "./tools_on_demand.js";

/** Of the panel at hand: what happens and what is said in it, the still that it is drawn from, and what can be done with it. */
export function panelWords(panel, state) {
  const { known } = state;
  const row = panel.row;
  const lost = known.revision?.figures_lost.filter((one) => one === panel.id) ?? [];
  const again = () => load(state, ["panels", "revision", "notes"]);
  return [
    h("h2", {}, `Panel ${panel.order}`),
    row && h("div", {}, words(row.happens) ?? h("p", { class: "quiet" }, "Nothing is written for this panel yet."), words(row.said, "said")),
    cameAlong(panel, known.revision) && h("p", { class: "small" }, "Its drawing stood in another place on the revision before; what is written and pinned on it came along. ",
      "If it belongs to another panel here, exchange the two under “Correct panels”."),
    row && known.may.write && word("Write", () => wordsDialog(`Panel ${panel.order}`, "panels", row, state), { "data-key": "write-panel" }),
    row && stillOf(row, panel, state),
    ...(row?.same_as ?? []).map((one) => h("p", { class: "small" }, sameAsWords(one, known.page))),
    lost.length > 0 && word(`Figures to mark again: ${lost.length}`, () => markFigures(state), { "data-key": "lost-marks" }),
    ...notMeasured(panel, known),
    row?.given_perspective && h("p", { class: "small quiet" }, "Its perspective was set by hand."),
    row && (known.may.run_board || known.draws) && known.revision?.state === "ready" &&
      button("Eye level …", () => eyeLevelDialog(panel, state), { "data-key": "eye-level" }),
    known.may.write && known.revision?.state === "ready" && button("Underlay …", () => underlayDialog(panel, state), { "data-key": "underlay" }),
    row && (known.may.run_board || known.draws) && button("Same as …", () => sameAsDialog(panel, state), { "data-key": "same-as" }),
    row && known.revision && button("What became of it …", () => panelHistoryDialog(panel, state), { "data-key": "history" }),
    ...(row?.left_alone_by ?? []).map((check) => h("p", { class: "small" }, `${labelOf(check, known)} leaves this panel alone. `,
      (known.draws || known.may.review) && word("Measure it again", () => attempt(() => measureAgain(row, check)).then(again)))),
    row && known.draws && button("Another try at it …", () => uploadDialog(known.page, () => load(state), [], { panels: panelsKnown(known), panel: row.id }), { "data-key": "panel-try" }),
    row?.alternates.length > 1 && button("Tries side by side …", () => alternatesDialog("panels", row, state), { "data-key": "panel-alternates" }),
    row?.alternates.length > 1 && row.chosen_alternate !== "A" && h("p", { class: "small quiet" }, `Alternate ${row.chosen_alternate} is chosen.`),
    row && (known.may.review || (known.draws && row.sent_back_to)) &&
      button(row.sent_back_to ? `This panel is ${ownState(row)} (${row.sent_back_to}) …` : "Send this panel back …", () => movesDialog("panels", row, state), { "data-key": "panel-moves" }),
  ].filter(Boolean);
}

const cameAlong = (panel, revision) => revision?.changes?.panels.some((one) => one.panel === panel.id && one.stood_elsewhere);

function stillOf(row, panel, state) {
  const { may, draws, revision } = state.known;
  const rendition = renditionFor(row.still?.renditions, 500);
  const again = () => load(state, ["panels"]);
  return h("figure", { class: "still" },
    rendition && h("img", { src: rendition.url, width: rendition.width_px, height: rendition.height_px, alt: row.still.title }),
    row.still && h("figcaption", { class: "small quiet" }, row.still.title, row.still_place && ". It lies under the panel."),
    may.draw || may.review ? h("div", { class: "buttons" },
      word(row.still ? "Another still" : "Tie a still", () => stillDialog(row, panel, state), { "data-key": "tie" }),
      row.still?.width_px && revision?.state === "ready" && (may.run_board || draws) &&
        word("Place it under the panel", () => stillPlaceDialog(panel, state), { "data-key": "place-still" }),
      row.still && word("Untie", () => attempt(() => untieStill(row)).then(again), { "data-key": "untie" })) : null);
}

const labelOf = (check, { revision }) => revision?.checks?.find((one) => one.check === check)?.label ?? check;

/** What a check could not measure in this panel, and why: silence is not a pass. */
function notMeasured(panel, { revision }) {
  return (revision?.checks ?? []).flatMap((check) => {
    const reason = check.numbers?.not_measured?.[String(panel.id)];
    return reason ? [h("p", { class: "small quiet" }, `${check.label}: not measured. ${reason}`)] : [];
  });
}

function sameAsWords({ state, page, page_numbers, order }, here) {
  const where = `panel ${order}${page === here.id ? "" : ` of page ${page_numbers.join("-")}`}`;
  return state === "declared" ? `Same as ${where}.` : `Perhaps the same as ${where}.`;
}
