import { cutSheet } from "../api/boards.js";
import { newKey } from "../api/http.js";
import { addPage } from "../api/pages.js";
import { field } from "../elements/field.js";
import { button, h, swap, word } from "../elements/h.js";
import { picturePart, renditionFor } from "../elements/picture_part.js";
import { attempt, say } from "../elements/slips.js";
import { count } from "../elements/words.js";
import { drawsPage, pageWith } from "../uploads/matching.js";
import { begun, choose, chooseBeside, chosenOf, cutBy, hasChanged, mergeWith, remove, undone } from "./panels_edit_model.js";
import { nudge, withLine } from "./panels_edit_nudge.js";
import { sheetDrawn } from "./sheet_cut_drawn.js";

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
  const [tools, list, send] = [h("div", { class: "buttons" }), h("ol", { class: "sheet-parts" }), h("button", { type: "button", class: "button first", onclick: () => cut() })];

  function show() {
    draw(edit);
    const shown = proposed(edit.panels, numbers, pages);
    swap(tools, toolsFor(edits, known.board.reading));
    swap(list, edit.panels.map((panel, i) => partRow(panel, i, shown[i])));
    const going = shown.filter(Boolean);
    send.textContent = going.length ? `Cut ${count(going.length, "page")}` : "Cut it";
    send.disabled = !going.length;
  }
  function partRow(panel, i, number) {
    const page = pageWith(pages, number);
    const input = h("input", { type: "number", min: "1", max: "9999", inputmode: "numeric", value: number ?? "", "data-key": `part-${panel.key}`,
      onchange: () => { numbers.set(panel.key, input.valueAsNumber > 0 ? Math.floor(input.valueAsNumber) : null); show(); } });
    const words = number === null ? "left out" : page ? (page.current_revision ? "a new revision" : "its first picture") : known.may.add_pages ? "a new page" : "there is no such page that you draw";
    return h("li", { class: panel.key === edit.chosen ? "is-chosen" : "" },
      picturePart(rendition, panel.polygon, { class: "sheet-part" }),
      field(`Part ${i + 1} is page`, input, words),
      word("Choose", () => edits.set(choose(edit, panel.key)), { "data-key": `choose-${panel.key}`, "aria-label": `Choose part ${i + 1}`, "aria-pressed": String(panel.key === edit.chosen) }));
  }
  async function cut() {
    const shown = proposed(edit.panels, numbers, pages);
    const going = edit.panels.map((panel, i) => ({ polygon: panel.polygon, number: shown[i] })).filter(({ number }) => number !== null);
    if (new Set(going.map(({ number }) => pageWith(pages, number)?.id ?? -number)).size < going.length) return say("Two parts have the same page. Give each its own, or leave one out.", { isFault: true });
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
  show();
  return h("div", { class: "dialog-body sheet-cutting" },
    h("p", {}, sheet.found.length ? `${count(sheet.found.length, "thumbnail")} found.` : "No thumbnail was found.",
      " Drag over the sheet to mark one that is missing; press a part to choose it, then drag it, its corners, or use the buttons."),
    surface, tools, list, h("div", { class: "buttons" }, send));
}

/** The number given by hand, or the next page that has no picture, or the next new one. */
function proposed(panels, numbers, pages) {
  const taken = new Set([...numbers.values()]);
  const free = pages.filter((page) => !page.current_revision && !taken.has(page.number)).map((page) => page.number);
  let next = Math.max(0, ...pages.flatMap((page) => page.numbers), ...[...numbers.values()].filter(Boolean)) + 1;
  return panels.map(({ key }) => (numbers.has(key) ? numbers.get(key) : (free.shift() ?? next++)));
}

async function newPage(board, number, sheet, pages) {
  const name = `${sheet} ${number}`;
  keys.set(name, keys.get(name) ?? newKey());
  const page = await addPage(board, { number }, keys.get(name));
  pages.push(page);
  return page;
}

function toolsFor(edits, reading) {
  const edit = edits.get();
  const isOff = !chosenOf(edit);
  const at = edit.panels.findIndex((panel) => panel.key === edit.chosen);
  const tool = (words, key, change, disabled = isOff) => button(words, () => edits.set(change(edits.get())), { disabled, "data-key": key });
  return [
    tool("Join with the next", "join", (now) => mergeWith(now, now.panels[at + 1]?.key), isOff || at + 1 >= edit.panels.length),
    tool("Cut side by side", "cut-upright", (now) => cutBy(now, withLine(now, true).line, reading)),
    tool("Cut one above the other", "cut-level", (now) => cutBy(now, withLine(now, false).line, reading)),
    tool("Take away", "remove", remove),
    tool("Undo", "undo", undone, !hasChanged(edit)),
  ];
}

/** What a key on the sheet does; null where it means nothing there. */
function keyed(edit, event) {
  const by = ARROWS[event.key];
  const steps = { PageDown: () => chooseBeside(edit, 1), PageUp: () => chooseBeside(edit, -1), Delete: () => remove(edit), Backspace: () => remove(edit) };
  const next = by ? nudge(edit, by.map((v) => v * (event.altKey ? 0.2 : 1)), event.shiftKey) : steps[event.key]?.();
  if (next) event.preventDefault();
  return next ?? null;
}
