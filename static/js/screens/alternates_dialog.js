import { chooseAlternate } from "../api/panels.js";
import { openDialog } from "../elements/dialog.js";
import { button, h, swap, word } from "../elements/h.js";
import { picturePart, renditionFor } from "../elements/picture_part.js";
import { nameOf, when } from "../elements/words.js";
import { load } from "./desk_load.js";
import { setterOn } from "./set_on_row.js";
import { offerUndo } from "./undo.js";

const WIDE_PX = 900;
const OWN_DRAWING = "A";

/** The tries at a page, or at one panel, side by side: the newest picture of each. One is chosen, none is lost. @param {"pages"|"panels"} kind */
export function alternatesDialog(kind, row, state) {
  const { known } = state;
  const name = kind === "pages" ? `page ${row.numbers.join("-")}` : `panel ${row.order}`;
  const mayChoose = known.may.run_board || known.draws;
  const set = setterOn(kind, row, (one) => one.chosen_alternate);
  const list = h("ul", { class: "tries" });
  let stop = () => {};
  openDialog(`Tries at ${name}`, (close) => {
    const choose = async (alternate) => {
      const before = row.chosen_alternate;
      const now = await set((one) => chooseAlternate(kind, one, alternate), { onRefusal: () => load(state) });
      if (!now) return;
      close();
      state.set({ shownRevision: null });
      await load(state);
      offerUndo(`Alternate ${alternate} is chosen.`, () => chooseAlternate(kind, now, before), () => load(state));
    };
    const show = (one) => {
      close();
      state.set({ shownRevision: one.id });
      load(state, ["revision"]);
    };
    // A try that was uploaded just now comes in when it is read.
    stop = state.on(["revisions", "page", "panels", "revision"], () => {
      const now = kind === "pages" ? known.page : known.panels.find((one) => one.id === row.id) ?? row;
      swap(list, triesAt(kind, now, known).map((one) =>
        tryItem(one, { isChosen: one.alternate === now.chosen_alternate, mayChoose, choose, show, isShown: one.id === known.revision?.id })));
    });
    return [
      h("p", { class: "hint" }, kind === "pages"
        ? "The chosen one is the page's own picture; the others are kept, with their notes."
        : "The page's own picture stays as it is until the chosen one is drawn into the next one."),
      list,
    ];
  }, { isWide: true, onClose: () => stop() });
}

function triesAt(kind, row, known) {
  const drawn = newestOfEach(known.revisions.filter((one) => one.panel === (kind === "pages" ? null : row.id)));
  return kind === "pages" ? drawn : withOwnDrawing(drawn, row, known);
}

function tryItem(one, { isChosen, mayChoose, choose, show, isShown }) {
  const rendition = renditionFor(one.renditions, WIDE_PX);
  return h("li", { class: isChosen ? "try is-chosen" : "try" },
    h("h3", {}, `Alternate ${one.alternate}`, isChosen && h("span", { class: "small" }, ", chosen")),
    rendition && (one.polygon ? picturePart(rendition, one.polygon, { class: "own-drawing" })
      : h("img", { src: rendition.url, width: rendition.width_px, height: rendition.height_px, alt: `Alternate ${one.alternate}, ${one.stage}` })),
    h("p", { class: "quiet small" }, `${one.polygon ? "As the page shows it now: revision" : "Revision"} ${one.number}, ${one.stage}, ${nameOf(one.uploaded_by)}, ${when(one.uploaded_at)}`),
    h("div", { class: "buttons" },
      mayChoose && !isChosen && button(`Choose ${one.alternate}`, () => choose(one.alternate), { "data-key": `choose-${one.alternate}` }),
      !isShown && word("Show it on the Desk", () => show(one))));
}

/** The page's own drawing of a panel is one of its tries, if none was uploaded under that letter. */
function withOwnDrawing(tries, row, { page, revisions }) {
  const own = revisions.find((one) => one.id === page.current_revision?.id);
  if (!own || !row.shape || tries.some((one) => one.alternate === OWN_DRAWING)) return tries;
  return [{ ...own, alternate: OWN_DRAWING, polygon: row.shape.polygon }, ...tries];
}

function newestOfEach(revisions) {
  const newest = new Map();
  for (const one of [...revisions].sort((a, b) => a.number - b.number)) if (one.state === "ready" && !one.withdrawn_at) newest.set(one.alternate, one);
  return [...newest.values()].sort((a, b) => a.alternate.localeCompare(b.alternate));
}
