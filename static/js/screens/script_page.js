import { h, word } from "../elements/h.js";
import { picturePart, renditionFor } from "../elements/picture_part.js";
import { spokenLines } from "../elements/spoken_words.js";
import { stageWord } from "../elements/stage_mark.js";
import { count } from "../elements/words.js";
import { takePanelOut } from "./dialogs_on_demand.js";
import { fits, foundIn, panelsOf, wordsIn } from "./script_facts.js";

const PART_PX = 400;

/**
 * One page: what happens on it, and its panels beside what is drawn of them; of these what is looked for.
 * @param {{write: Function, add: Function, drop: Function}|false} deeds what this person may do here
 */
export function scriptPage(page, { panels }, deeds, wish) {
  const own = panelsOf(page, panels);
  const standing = own.filter((panel) => !panel.is_gone);
  const shown = own.filter((panel) => fits(panel, wish));
  const isWished = Boolean(wish.find.trim() || wish.who);
  // Before a page is drawn its panels are words; the first drawing claims them in order.
  const isUndrawn = page.current_revision === null;
  const numbers = page.numbers.join("-");
  return h("section", { class: "part script-page" },
    h("h2", {}, h("a", { href: `/pages/${page.id}`, "data-key": `page-${page.id}` }, `Page ${numbers}`), stageWord(page.stage),
      h("span", { class: "quiet small" }, [standing.length > 0 && count(standing.length, "panel"), count(wordsIn([page, ...standing]), "word")].filter(Boolean).join(", "))),
    fits(page, wish) && h("div", { class: "script-part", "data-part": `pages-${page.id}` },
      h("div", {}, standing.length === 0 && pageIn(page)),
      h("div", { class: "script-words" }, ...wordsOf(page, wish), deeds && writeButton(page, "pages", page, deeds, `Write on page ${numbers}`))),
    shown.length > 0 && h("ol", { class: "script-panels" }, shown.map((panel) => {
      const name = `panel ${panel.order} of page ${numbers}`;
      return h("li", { class: "script-part", "data-part": `panels-${panel.id}` },
        h("div", { class: "script-seen" }, panelIn(panel, page), stillIn(panel)),
        h("div", { class: "script-words" },
          h("div", { class: "script-head" },
            h("h3", {}, `Panel ${panel.order}`), h("span", { class: "quiet small" }, panel.is_gone ? "not on the newest picture" : panel.said && count(wordsIn([panel]), "word")),
            deeds && writeButton(page, "panels", panel, deeds, `Write ${name}`),
            deeds && isUndrawn && word("Take out", () => takePanelOut(panel, () => deeds.drop(panel)), { class: "word small script-deed", "data-key": `drop-${panel.id}`, "aria-label": `Take ${name} out` })),
          ...wordsOf(panel, wish), !panel.happens && !panel.said && h("p", { class: "quiet small" }, "nothing written")));
    })),
    deeds && isUndrawn && !isWished && h("p", { class: "script-deed" }, word("One more panel", () => deeds.add(page), { "data-key": `add-${page.id}`, "aria-label": `One more panel on page ${numbers}` })));
}

const writeButton = (page, kind, row, deeds, name) =>
  word("Write", () => deeds.write(page, kind, row), { class: "word small script-deed", "data-key": `write-${kind}-${row.id}`, "aria-label": name });

function wordsOf({ happens, said }, { find }) {
  const lines = spokenLines(said);
  return [
    happens && h("p", { class: "words" }, marked(happens, find)),
    lines.length > 0 && h("dl", { class: "script-said" }, lines.map(({ who, words }) =>
      h("div", {}, h("dt", {}, who ? marked(who, find) : h("span", { class: "out-of-sight" }, "Nobody named")), h("dd", {}, marked(words, find))))),
  ];
}

const marked = (text, find) => foundIn(text, find).map((part) => (part.isFound ? h("mark", {}, part.text) : part.text));

function panelIn({ id, order, shape }, page) {
  const rendition = shape && renditionFor(page.current_revision?.renditions, PART_PX * (page.is_spread ? 2 : 1));
  if (!rendition) return h("span", { class: "panel-part is-missing" }, "not drawn");
  return h("a", { href: `/pages/${page.id}?panel=${id}`, class: "script-to-desk" },
    picturePart(rendition, shape.polygon, { class: "panel-part" }), h("span", { class: "out-of-sight" }, `Panel ${order} of page ${page.numbers.join("-")} on the Desk`));
}

/** What it is to be drawn from. */
function stillIn({ still }) {
  const rendition = renditionFor(still?.renditions, PART_PX);
  return rendition && h("img", { class: "script-still", src: rendition.url, width: rendition.width_px, height: rendition.height_px, loading: "lazy", alt: `The still it is drawn from: ${still.title}` });
}

function pageIn(page) {
  const rendition = renditionFor(page.current_revision?.renditions, PART_PX);
  return rendition && h("img", { class: "script-whole", src: rendition.url, width: rendition.width_px, height: rendition.height_px, loading: "lazy", alt: `Page ${page.numbers.join(" and ")}` });
}
