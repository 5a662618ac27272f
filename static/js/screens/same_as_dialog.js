import { declareSameAs, refuseSameAs } from "../api/panels.js";
import { pagesOfBoard, panelsOfPage } from "../api/pages.js";
import { openDialog } from "../elements/dialog.js";
import { choice, field } from "../elements/field.js";
import { button, h, swap, word } from "../elements/h.js";
import { picturePart, renditionFor } from "../elements/picture_part.js";
import { attempt } from "../elements/slips.js";
import { load } from "./desk_load.js";
import { setterOn } from "./set_on_row.js";

const PART_PX = 500;

/** Whose drawing a panel takes over: chosen among the panels of any page, seen beside this one, taken back. */
export function sameAsDialog(panel, state) {
  openDialog(`Whose drawing panel ${panel.order} takes over`, (close) => {
    const body = h("div", { class: "stack", "aria-busy": "true" });
    const desk = { panel, state, page: state.known.page, close, set: setterOn("panels", panel.row, ({ same_as }) => same_as) };
    attempt(() => pagesOfBoard(state.known.board.id)).then((pages) => {
      if (!pages) return close();
      body.setAttribute("aria-busy", "false");
      return body.replaceChildren(...content(desk, pages.filter((page) => page.current_revision)));
    });
    return body;
  }, { isWide: true });
}

function content(desk, pages) {
  const pairs = desk.panel.row.same_as;
  const list = h("ul", { class: "panel-choice", "aria-label": "Panels of that page" });
  const pick = choice(pages.map((page) => [page.id, `Page ${page.numbers.join("-")}${page.id === desk.page.id ? ", this one" : ""}`]), firstPage(pairs, pages, desk.page),
    { onchange: () => show() });
  const show = async () => {
    const page = pages.find((one) => String(one.id) === pick.value);
    // Nothing of the page before may be chosen while this one's panels are on their way.
    swap(list);
    list.setAttribute("aria-busy", "true");
    const panels = page && (await attempt(() => panelsOfPage(page.id)));
    if (!panels || pick.value !== String(page.id)) return;
    list.setAttribute("aria-busy", "false");
    swap(list, ...panels.filter((one) => one.shape && one.id !== desk.panel.id).map((one) => panelItem(one, page, desk)));
  };
  show();
  return [
    h("p", { class: "hint" }, "A panel that keeps an earlier one's drawing is laid over it at each upload: you are told when the background they share has slipped."),
    ...pairs.map((pair) => pairRow(pair, pages, desk)),
    field(pairs.length ? "Another panel instead" : "The earlier panel", pick), list,
  ];
}

/** Where the panel probably is: on the page that was chosen, else on the one before. */
function firstPage(pairs, pages, page) {
  const before = pages.filter((one) => one.numbers[0] < page.numbers[0]).at(-1);
  return pairs[0]?.page ?? (before ?? page).id;
}

function panelItem(one, page, desk) {
  const isChosen = desk.panel.row.same_as.some(({ panel, state }) => panel === one.id && state === "declared");
  return h("li", {}, h("button", {
    type: "button", class: "panel-choose", "data-key": `panel-${one.id}`, "aria-pressed": String(isChosen),
    onclick: () => finish(desk, (row) => declareSameAs(row, one.id), `Same as panel ${one.order} of page ${page.numbers.join("-")}.`),
  }, part(page.current_revision, one.shape.polygon), h("span", {}, "Panel ", h("span", { class: "figure" }, String(one.order)))));
}

/** A pair that holds or is proposed: this panel and the earlier one, side by side. */
function pairRow(pair, pages, desk) {
  const page = pages.find((one) => one.id === pair.page);
  const where = `panel ${pair.order} of page ${pair.page_numbers.join("-")}`;
  const isProposed = pair.state === "proposed";
  const earlier = h("div", { class: "panel-pair-part" });
  if (page) {
    attempt(() => panelsOfPage(page.id)).then((panels) => {
      const model = panels?.find((one) => one.id === pair.panel);
      if (model?.shape) earlier.append(part(page.current_revision, model.shape.polygon));
    });
  }
  const refuse = () => finish(desk, (row) => refuseSameAs(row, pair.panel), isProposed ? "It will not be proposed again." : "Taken back.");
  return h("section", { class: "panel-pair" },
    h("p", {}, isProposed ? `Perhaps the same as ${where}: the drawing says so.` : `It is declared the same as ${where}.`),
    h("div", { class: "panel-pair-parts" }, earlier, h("div", { class: "panel-pair-part" }, part(desk.state.known.revision, desk.panel.polygon))),
    h("div", { class: "buttons" },
      isProposed && button("Yes, it is", () => finish(desk, (row) => declareSameAs(row, pair.panel), `Same as ${where}.`)),
      word(isProposed ? "No, it is another drawing" : "Take it back", refuse)));
}

function part(revision, polygon) {
  const rendition = renditionFor(revision?.renditions, PART_PX);
  return rendition ? picturePart(rendition, polygon, { class: "panel-part" }) : h("span", { class: "panel-part" });
}

async function finish({ state, close, set }, send, done) {
  const again = () => load(state, ["panels", "revision", "notes"]);
  if (!(await set(send, { done, onRefusal: again }))) return;
  close();
  again();
}
