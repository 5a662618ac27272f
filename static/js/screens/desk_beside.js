import { dropPanel } from "../api/pages.js";
import { h, swap, word } from "../elements/h.js";
import { attempt } from "../elements/slips.js";
import { panelsShown } from "./desk_facts.js";
import { load } from "./desk_load.js";
import { showPanel } from "./desk_view.js";
import { lostPanelDialog, takePanelOut, wordsDialog } from "./dialogs_on_demand.js";
import { mayCorrect } from "./tools_on_demand.js";

const ofPanel = { show: /** @type {((panel: any, state: any) => any[])|null} */ (null), isAsked: false };

/** Beside the page: what happens and what is said, on the page or in the panel at hand. What a panel has beside it comes with the first one. */
export function showBeside(state, beside) {
  state.on(["page", "panels", "panel", "revision"], (known) => {
    if (!known.page) return;
    const panel = panelsShown(known).find((one) => one.id === known.panel);
    if (panel && !ofPanel.show) askForPanels(state);
    else swap(beside, ...(panel ? ofPanel.show(panel, state) : pageWords(state)));
  });
}

async function askForPanels(state) {
  if (ofPanel.isAsked) return;
  ofPanel.isAsked = true;
  ofPanel.show = (await import("./desk_beside_panel.js")).panelWords;
  state.set({ panel: state.known.panel });
}

function pageWords(state) {
  const { known } = state;
  const shown = new Map(panelsShown(known).map((panel) => [panel.id, panel]));
  const lost = known.lost.filter((panel) => (panel.happens || panel.said) && !shown.has(panel.id));
  const rows = [...known.panels, ...lost].map((panel) => h("li", {},
    h("h3", {}, panelName(panel, shown.get(panel.id), state)), shown.size && !shown.has(panel.id) ? h("p", { class: "small quiet" }, "not on this picture") : null,
    words(panel.happens) ?? (!panel.said && h("p", { class: "small quiet" }, "nothing written")), words(panel.said, "said"),
    shown.has(panel.id) || !known.may.write ? null : h("div", { class: "buttons" },
      word("Write", () => wordsDialog(`Panel ${panel.order}`, "panels", panel, state), { "data-key": `write-panel-${panel.id}`, "aria-label": `Write panel ${panel.order}` }),
      shown.size > 0 && isNewest(known) && mayCorrect(known) && word("It is on the picture …", () => lostPanelDialog(panel, state), { "data-key": `lost-${panel.id}` }),
      !panel.shape && !panel.is_gone && word("Take out", () => takePanelOut(panel, () => attempt(() => dropPanel(panel)).then(() => load(state, ["panels"]))), { "aria-label": `Take panel ${panel.order} out` }))));
  return [
    h("h2", {}, "Words of the page"),
    h("div", {}, words(known.page.happens) ?? h("p", { class: "quiet" }, "Nothing is written yet. What happens on this page?"), words(known.page.said, "said")),
    known.may.write && word("Write", () => wordsDialog("What happens on this page", "pages", known.page, state), { "data-key": "write-page" }),
    h("ol", { class: "panel-words" }, rows),
    // Before a page is drawn its panels are words; the first drawing claims them in order.
    !shown.size && known.may.write && known.revision === null && word("One more panel", () => wordsDialog("One more panel", "panels", null, state), { "data-key": "add-panel" }),
  ].filter(Boolean);
}

const isNewest = ({ revision, page }) => revision?.id === page.current_revision?.id;

/** Where it is seen on the page, its name leads to the panel, where words are written; the strip has the focus then, to go on from. */
const panelName = ({ id, order }, shown, state) => (!shown ? `Panel ${order}` : word(`Panel ${order}`, () => {
  showPanel(state, shown);
  requestAnimationFrame(() => document.querySelector(`[data-key="strip-${id}"]`)?.focus());
}));

export const words = (text, kind = "happens") => (text ? h("p", { class: `words ${kind}` }, text) : null);
