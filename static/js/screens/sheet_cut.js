import { cutSheet } from "../api/boards.js";
import { newKey } from "../api/http.js";
import { addPage } from "../api/pages.js";
import { form } from "../elements/field.js";
import { button, h } from "../elements/h.js";
import { renditionFor } from "../elements/picture_part.js";
import { attempt, say } from "../elements/slips.js";
import { count } from "../elements/words.js";
import { drawsPage, numbersProposed, pageWith, pictureWords, placeOf } from "../uploads/matching.js";
import { begun, choose, chooseBeside, chosenOf, cutBy, hasChanged, mergeWith, remove, undone } from "./panels_edit_model.js";
import { nudge, withLine } from "./panels_edit_nudge.js";
import { sheetDrawn } from "./sheet_cut_drawn.js";
import { partRows } from "./sheet_cut_rows.js";

const STEP = 0.005;
const ARROWS = { ArrowLeft: [-STEP, 0], ArrowRight: [STEP, 0], ArrowUp: [0, -STEP], ArrowDown: [0, STEP] };
const keys = new Map();

/** A sheet that was read: its parts, corrected by hand, and which page each becomes. @param {{close: () => void, reload: () => void}} deeds */
export function sheetCut(sheet, known, { close, reload }) {
  const pages = (known.pages ?? []).filter((page) => drawsPage(page, known));
  const numbers = new Map();
  const rendition = renditionFor(sheet.renditions, 1200);
  const panels = sheet.found.map(({ polygon }, i) => ({ id: i, polygon, framed: true, order: i }));
  let edit = begun({ id: sheet.id, panels }, 0);
  const edits = { get: () => edit, set: (next) => { if (next && next !== edit) { edit = next; show(); } } };
  const { element: surface, draw } = sheetDrawn(rendition, edits);
  const tools = toolsFor(edits, known.board.reading);
  const parts = partRows(rendition, {
    choose: (key) => edits.set(choose(edit, key)),
    give: (key, number) => { numbers.set(key, number); show(); },
    words: wordsOf,
  });
  const send = h("button", { class: "button first" });

  function show() {
    draw(edit);
    const shown = numbersProposed(edit.panels.map(({ key }) => key), numbers, pages);
    tools.show();
    parts.show(edit, shown);
    // Closed now, the dialog asks first: what was drawn is not kept either.
    if (hasChanged(edit)) element?.dispatchEvent(new Event("input", { bubbles: true }));
    const going = shown.filter(Boolean);
    send.textContent = going.length ? `Cut ${count(going.length, "page")}` : "Cut it";
    send.disabled = !going.length;
  }
  function wordsOf(i, shown) {
    const number = shown[i];
    const page = pageWith(pages, number);
    const twin = number === null ? -1 : shown.findIndex((other, k) => k !== i && other !== null && placeOf(pages, other) === placeOf(pages, number));
    if (twin >= 0) return { words: `part ${twin + 1} has this page too`, isFault: true };
    if (number === null) return { words: "left out" };
    if (page) return { words: pictureWords(page, "thumbnail") };
    return { words: known.may.add_pages ? "a new page" : "there is no such page that you draw" };
  }
  async function cut() {
    const shown = numbersProposed(edit.panels.map(({ key }) => key), numbers, pages);
    const going = edit.panels.map((panel, i) => ({ polygon: panel.polygon, number: shown[i] })).filter(({ number }) => number !== null);
    if (new Set(going.map(({ number }) => placeOf(pages, number))).size < going.length) return say("Two parts have the same page. Give each its own, or leave one out.", { isFault: true });
    send.disabled = true;
    const sent = await attempt(async () => {
      const cuts = [];
      for (const { polygon, number } of going) cuts.push({ polygon, page: (pageWith(pages, number) ?? await newPage(known.board.id, number, sheet.id, pages)).id });
      return cutSheet(sheet.id, cuts);
    }, { done: `${count(going.length, "thumbnail")} on the way to the Wall.` });
    send.disabled = false;
    if (!sent) return undefined;
    close();
    return reload();
  }
  surface.addEventListener("keydown", (event) => edits.set(keyed(edit, event)));
  const element = form({ class: "dialog-body sheet-cutting" }, cut,
    h("p", {}, sheet.found.length ? `${count(sheet.found.length, "thumbnail")} found.` : "No thumbnail was found.",
      " Drag over the sheet to mark one that is missing; press a part to choose it, then drag it, its corners, or use the buttons."),
    surface, tools.element, parts.element, h("div", { class: "buttons" }, send));
  show();
  return element;
}

async function newPage(board, number, sheet, pages) {
  const name = `${sheet} ${number}`;
  keys.set(name, keys.get(name) ?? newKey());
  const page = await addPage(board, { number }, keys.get(name));
  pages.push(page);
  return page;
}

/** Buttons that stay while what they can do changes: one that is held down is not drawn anew. */
function toolsFor(edits, reading) {
  const at = (edit) => edit.panels.findIndex((panel) => panel.key === edit.chosen);
  const isChosen = (edit) => Boolean(chosenOf(edit));
  const tools = [
    ["Join with the next", "join", (edit) => mergeWith(edit, edit.panels[at(edit) + 1]?.key), (edit) => isChosen(edit) && at(edit) + 1 < edit.panels.length],
    ["Cut side by side", "cut-upright", (edit) => cutBy(edit, withLine(edit, true).line, reading), isChosen],
    ["Cut one above the other", "cut-level", (edit) => cutBy(edit, withLine(edit, false).line, reading), isChosen],
    ["Take away", "remove", remove, isChosen],
    ["Undo", "undo", undone, hasChanged],
  ].map(([words, key, change, isOn]) => ({ isOn, element: button(words, () => edits.set(change(edits.get())), { "data-key": key }) }));
  const show = () => { for (const { isOn, element } of tools) element.disabled = !isOn(edits.get()); };
  return { element: h("div", { class: "buttons" }, tools.map(({ element }) => element)), show };
}

/** What a key on the sheet does; null where it means nothing there. */
function keyed(edit, event) {
  const by = ARROWS[event.key];
  const steps = { PageDown: () => chooseBeside(edit, 1), PageUp: () => chooseBeside(edit, -1), Delete: () => remove(edit), Backspace: () => remove(edit) };
  const next = by ? nudge(edit, by.map((v) => v * (event.altKey ? 0.2 : 1)), event.shiftKey) : steps[event.key]?.();
  if (next) event.preventDefault();
  return next ?? null;
}
