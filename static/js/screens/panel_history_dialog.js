import { historyOf } from "../api/panels.js";
import { openDialog } from "../elements/dialog.js";
import { h, word } from "../elements/h.js";
import { picturePart, renditionFor } from "../elements/picture_part.js";
import { attempt } from "../elements/slips.js";
import { when } from "../elements/words.js";
import { load } from "./desk_load.js";

const PART_PX = 900;
const WORDS = {
  same: "the same as before", touched: "touched here and there", redrawn: "redrawn", moved: "the same drawing in another place",
  new: "new on this picture", gone: "gone from the page",
};

/** What became of one panel from revision to revision, the newest first. */
export function panelHistoryDialog(panel, state) {
  openDialog(`What became of panel ${panel.order}`, (close) => {
    const list = h("ol", { class: "panel-history", reversed: true, "aria-busy": "true" });
    attempt(() => historyOf(panel.id)).then((rows) => {
      if (!rows) return close();
      list.setAttribute("aria-busy", "false");
      const newestFirst = [...rows].reverse();
      return list.replaceChildren(...newestFirst.map((row, i) => step(row, newestFirst[i + 1], { panel, state, close })));
    });
    return list;
  }, { isWide: true });
}

function step(row, before, { panel, state, close }) {
  const { known } = state;
  const revision = known.revisions.find((one) => one.id === row.revision);
  const rendition = renditionFor(revision?.renditions, PART_PX);
  const isShown = known.revision?.id === row.revision;
  const show = () => {
    close();
    state.set({ shownRevision: row.revision, panel: panel.id });
    load(state, ["revision"]);
  };
  return h("li", { class: "panel-step" },
    rendition && row.polygon ? picturePart(rendition, row.polygon, { class: "panel-part" }) : h("span", { class: "panel-part is-missing" }, "not on this picture"),
    h("div", {},
      h("h3", {}, "Revision ", h("span", { class: "figure" }, String(row.number)), `, ${row.stage}${row.alternate === "A" ? "" : `, alternate ${row.alternate}`}`),
      h("p", { "data-word": row.word }, row.word ? WORDS[row.word] : before ? "not compared" : "drawn for the first time"),
      h("p", { class: "quiet small" }, when(row.uploaded_at)),
      h("p", { class: "buttons small" },
        isShown ? h("span", { class: "quiet" }, "It lies on the Desk now.") : row.polygon && word("Show it on the Desk", show),
        before && h("a", { href: `/pages/${known.pageId}/compare?after=${row.revision}&before=${before.revision}` }, "Compare with the one before"))));
}
