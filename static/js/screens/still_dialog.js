import { referencesOf } from "../api/boards.js";
import { tieStill } from "../api/pages.js";
import { openDialog } from "../elements/dialog.js";
import { button, h } from "../elements/h.js";
import { renditionFor } from "../elements/picture_part.js";
import { attempt } from "../elements/slips.js";
import { load } from "./desk_load.js";
import { setterOn } from "./set_on_row.js";

/** Which picture of the references is shown beside a panel. */
export function stillDialog(row, panel, state) {
  const set = setterOn("panels", row, ({ still }) => still?.id);
  openDialog(`A still for panel ${panel.order}`, (close) => {
    const list = h("ul", { class: "reference-list" });
    attempt(() => referencesOf(state.known.board.id)).then((references) => {
      const choose = (one) => set((now) => tieStill(now, one.id)).then((isTied) => {
        if (isTied) close();
        load(state, ["panels"]);
      });
      const rows = (references ?? []).filter((one) => one.state === "ready").map((one) => {
        const rendition = renditionFor(one.renditions, 300);
        return h("li", { class: "reference" }, rendition && h("img", { src: rendition.url, width: rendition.width_px, height: rendition.height_px, alt: "" }),
          button(one.title, () => choose(one)));
      });
      list.replaceChildren(...(rows.length ? rows : [h("li", { class: "quiet" }, "No references yet. Add one under ", h("a", { href: `/boards/${state.known.board.id}/references` }, "References"), ".")]));
    });
    return list;
  }, { isWide: true });
}
