import { referencesOf } from "../api/boards.js";
import { tieStill } from "../api/pages.js";
import { openDialog } from "../elements/dialog.js";
import { button, h, swap } from "../elements/h.js";
import { renditionFor } from "../elements/picture_part.js";
import { attempt } from "../elements/slips.js";
import { load } from "./desk_load.js";
import { setterOn } from "./set_on_row.js";

/** Stills first. Model sheets are of the cast, and no panel is drawn from one. */
const KINDS = ["still", "background", "pose", "prop"];

/** Which picture of the references is shown beside a panel. */
export function stillDialog(row, panel, state) {
  const set = setterOn("panels", row, ({ still }) => still?.id);
  openDialog(`A still for panel ${panel.order}`, (close) => {
    const desk = { still: row.still, references: [], hint: h("p", { class: "hint", role: "status" }), list: h("ul", { class: "reference-list" }) };
    const show = () => {
      swap(desk.hint, desk.still ? `Tied to it now: ${desk.still.title}.` : "None is tied to it.");
      swap(desk.list, ...rowsOf(desk.references.filter((one) => one.id !== desk.still?.id), choose, state));
    };
    async function choose(one) {
      const isTied = await set((now) => tieStill(now, one.id));
      if (isTied) close();
      await load(state, ["panels"]);
      // Where somebody else tied one meanwhile, it is told which.
      const now = state.known.panels.find(({ id }) => id === row.id);
      desk.still = now ? now.still : desk.still;
      show();
    }
    attempt(() => referencesOf(state.known.board.id)).then((references) => {
      const ready = (references ?? []).filter((one) => one.state === "ready");
      desk.references = KINDS.flatMap((kind) => ready.filter((one) => one.kind === kind));
      show();
    });
    return [desk.hint, desk.list];
  }, { isWide: true });
}

function rowsOf(references, choose, { known }) {
  if (!references.length) return [h("li", { class: "quiet" }, "There is no other. Add one under ", h("a", { href: `/boards/${known.board.id}/references` }, "References"), ".")];
  return references.map((one) => {
    const rendition = renditionFor(one.renditions, 300);
    return h("li", { class: "reference" }, rendition && h("img", { src: rendition.url, width: rendition.width_px, height: rendition.height_px, alt: "" }),
      button(one.title, () => choose(one), { "data-key": `still-${one.id}` }), one.kind !== "still" && h("p", { class: "quiet small" }, one.kind));
  });
}
