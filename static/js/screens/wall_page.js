import { h } from "../elements/h.js";
import { renditionFor } from "../elements/picture_part.js";
import { stageWord } from "../elements/stage_mark.js";
import { toneTally } from "../elements/tone_mark.js";
import { count, unopenedWords } from "../elements/words.js";
import { isTall } from "../geometry/page_space.js";
import { dropFiles } from "../gestures/drop_file.js";
import { drawsPage } from "../uploads/matching.js";
import { uploadDialog } from "./dialogs_on_demand.js";
import { aheadWords, newsWords, waitingWords } from "./wall_facts.js";

const THUMB_PX = 420;

/**
 * One page on the Wall: its picture, its stage in its own line, what is open on it, whom it waits for, what is new.
 * @param {{side: "left"|"right"|"both"|"alone", isAside: boolean}} place `isAside`: only there since it faces one that is looked for
 */
export function wallPage(page, state, reload, { side, isAside }) {
  const { known } = state;
  const news = newsWords(page);
  const numbers = page.numbers.join("-");
  const leaf = h("article", { class: ["leaf", side, news && "has-news", isAside && "is-aside"].filter(Boolean).join(" "), "data-stage": page.stage, "data-page": page.id },
    h("a", { class: "leaf-link", href: `/pages/${page.id}`, "data-key": `page-${page.id}` },
      pictureOf(page, known.row),
      h("span", { class: "leaf-number" }, h("span", { class: "out-of-sight" }, "Page "), h("span", { class: "figure" }, numbers))),
    h("div", { class: "leaf-foot" },
      h("p", { class: "leaf-stage" }, stageWord(page.stage), h("span", { class: "quiet" }, waitingWords(page, known))),
      page.refused_upload && h("p", { class: "fault small" }, unopenedWords(page.refused_upload)),
      tallyOf(page),
      page.kept_ahead.length > 0 && h("p", { class: "leaf-ahead small quiet" }, aheadWords(page)),
      news && h("p", { class: "leaf-news small" }, news),
      known.order?.orderBar(page, state, reload)));
  if (!known.order && drawsPage(page, known)) {
    dropFiles(leaf, (files) => uploadDialog(page, reload, files));
    leaf.querySelector(".leaf-foot").append(uploadButton(page, reload, numbers));
  }
  return leaf;
}


function uploadButton(page, reload, numbers) {
  return h("button", { type: "button", class: "word small", "data-key": `upload-${page.id}`, onclick: () => uploadDialog(page, reload) },
    "Upload", h("span", { class: "out-of-sight" }, ` to page ${numbers}`));
}

function pictureOf(page, row) {
  const revision = page.current_revision;
  const rendition = renditionFor(revision?.renditions, THUMB_PX * (page.is_spread ? 2 : 1));
  const shape = rendition ? [rendition.width_px, rendition.height_px] : blankShape(page, row);
  if (rendition) {
    return h("img", {
      class: isTall(rendition) ? "leaf-picture is-tall" : "leaf-picture", src: rendition.url, width: shape[0], height: shape[1], loading: "lazy", decoding: "async",
      alt: `Page ${page.numbers.join(" and ")}, ${revision.stage}`, draggable: "false",
    });
  }
  return h("span", { class: "leaf-picture is-empty" }, h("span", { class: "quiet" }, emptyWords(page)));
}

function emptyWords({ current_revision: revision, refused_upload: refused }) {
  if (revision) return "being read …";
  return refused ? "nothing that could be opened" : "nothing drawn yet";
}

const blankShape = (page, row) => [(row?.trim_width_mm ?? 148) * (page.is_spread ? 2 : 1), row?.trim_height_mm ?? 210];

function tallyOf(page) {
  const rest = [
    page.answered_notes > 0 && h("span", {}, `${page.answered_notes} answered`),
    page.panels_sent_back > page.panels_handed_in && h("span", { class: "sent-back" }, `${page.panels_sent_back - page.panels_handed_in} sent back`),
    page.panels_handed_in > 0 && h("span", { class: "sent-back" }, `${count(page.panels_handed_in, "panel")} handed in`),
  ];
  const parts = [...toneTally(page.open_notes), ...rest.filter(Boolean)];
  return h("p", { class: "tally small" }, parts.length ? parts : h("span", { class: "quiet" }, "nothing open"));
}
