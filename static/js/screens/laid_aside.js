import { laidAsideOf, layAside, takeIn } from "../api/page_order.js";
import { openDialog } from "../elements/dialog.js";
import { h, swap, word } from "../elements/h.js";
import { renditionFor } from "../elements/picture_part.js";
import { attempt, say } from "../elements/slips.js";
import { count, when } from "../elements/words.js";
import { openNotes } from "./wall_facts.js";

const THUMB_PX = 160;
const nameOf = (page) => page.numbers.join("-");

/** Takes a page out of the comic, with all that is on it. */
export async function putAside(page, reload) {
  const aside = await attempt(() => layAside(page), { onRefusal: reload });
  if (!aside) return;
  await reload();
  say(`Page ${nameOf(page)} is laid aside; those after it moved up.`, { way: ["Bring it back", () => putBack(aside, reload)] });
}

/** @param {() => any} reload */
export async function putBack(page, reload) {
  const back = await attempt(() => takeIn(page));
  if (back) say(`It is page ${nameOf(back)} again.`);
  await reload();
}

/** All that was taken out of the comic. */
export function laidAsideDialog(board, reload) {
  openDialog("Laid aside", () => {
    const list = h("ul", { class: "rows" });
    const show = async () => {
      const pages = await attempt(() => laidAsideOf(board));
      if (pages) swap(list, ...(pages.length ? pages.map((page) => row(page, () => putBack(page, () => Promise.all([show(), reload()])))) : [nothing()]));
    };
    show();
    return list;
  });
}

const nothing = () => h("li", { class: "quiet" }, "Every page is in the comic. One that is laid aside keeps its drawings and notes here.");

function row(page, back) {
  const rendition = renditionFor(page.current_revision?.renditions, THUMB_PX);
  const [width, height] = rendition ? [rendition.width_px, rendition.height_px].map((px) => Math.round((px * THUMB_PX) / 2 / rendition.width_px)) : [];
  return h("li", { "data-key": `aside-${page.id}`, tabindex: "-1" },
    h("span", {}, rendition && h("img", { src: rendition.url, width, height, alt: "" }), " ",
      h("a", { href: `/pages/${page.id}` }, `Page ${nameOf(page)} until then`), " ",
      h("span", { class: "quiet small" }, `${when(page.laid_aside_at)}, ${page.stage}, ${count(openNotes(page), "open note")}`), " ",
      page.held_notes > 0 && h("strong", { class: "small" }, `${count(page.held_notes, "note")} that you hold: ${page.held_notes > 1 ? "they are" : "it is"} sent from there`)),
    word("Bring it back", back, { "aria-label": `Bring page ${nameOf(page)} back` }));
}
