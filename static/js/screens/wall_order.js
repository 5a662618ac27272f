import { changePage } from "../api/pages.js";
import { closeGaps, placePage, renumberFrom } from "../api/page_order.js";
import { boxes, ticked } from "../elements/boxes.js";
import { openDialog } from "../elements/dialog.js";
import { field, form } from "../elements/field.js";
import { button, h, word } from "../elements/h.js";
import { attempt, say, whisper } from "../elements/slips.js";
import { count } from "../elements/words.js";
import { dragPage } from "../gestures/drag_page.js";
import { laidAsideDialog, putAside } from "./laid_aside.js";
import { aboutPageDialog } from "./wall_page_about.js";
import { pageDialog } from "./wall_page_dialog.js";

/** The order of pages, changed by dragging a page by its grip, by arrow keys on it, or by a number. Each step is sent at once. */
export function orderBar(page, state, reload) {
  const { board } = state.known;
  const name = page.numbers.join("-");
  const grip = button("Move", () => {}, { class: "button grip", "data-key": `grip-${page.id}`, "aria-label": `Move page ${name}: arrow keys, or drag` });
  const isBack = (key) => key === (board.reading === "rtl" ? "ArrowRight" : "ArrowLeft") || key === "ArrowUp";
  grip.addEventListener("keydown", (event) => {
    if (!/^(Arrow|Home$|End$)/.test(event.key)) return;
    event.preventDefault();
    const others = inOrder(state).filter((one) => one.id !== page.id);
    const now = inOrder(state).findIndex((one) => one.id === page.id);
    const to = { Home: 0, End: others.length }[event.key] ?? now + (isBack(event.key) ? -1 : 1);
    if (to >= 0 && to <= others.length) move(page, others[to] ?? null, state, reload);
    else whisper(to < 0 ? "It is the first page." : "It is the last page.");
  });
  dragPage(grip, { reading: board.reading, onPlace: (target, isAfter) => {
    const pages = inOrder(state).filter((one) => one.id !== page.id);
    const index = pages.findIndex((one) => one.id === target);
    if (index >= 0) move(page, pages[index + (isAfter ? 1 : 0)] ?? null, state, reload);
  } });
  return h("div", { class: "order-bar" }, grip,
    word("Insert before", () => pageDialog(state, reload, page.number), { "data-key": `insert-${page.id}`, "aria-label": `Insert a page before page ${name}` }),
    word("Renumber", () => renumberDialog(page, state, reload), { "data-key": `renumber-${page.id}`, "aria-label": `Renumber page ${name}` }),
    word("About it", () => aboutPageDialog(page, state, reload), { "data-key": `about-${page.id}`, "aria-label": `About page ${name}` }),
    word("Lay aside", () => putAside(page, reload), { "data-key": `aside-${page.id}`, "aria-label": `Lay page ${name} aside` }));
}

const inOrder = ({ known }) => [...known.pages].sort((a, b) => a.number - b.number);

async function move(page, before, state, reload) {
  if (state.isMoving) return;
  state.isMoving = true;
  const moved = await attempt(() => placePage(page, before?.id ?? null), { onRefusal: reload });
  if (moved) {
    await reload();
    whisper(`It is page ${moved.numbers.join("-")} now.`);
  }
  state.isMoving = false;
}

function renumberDialog(page, state, reload) {
  openDialog(`Another number for page ${page.numbers.join("-")}`, (close) => {
    const element = form({}, async ({ number }) => {
      const to = Number(number);
      const takesAlong = ticked(element, "along").length > 0;
      const done = takesAlong ? () => renumberFrom(state.known.board.id, page.number, to) : () => changePage(page, { number: to });
      if (!(await attempt(done, { done: `It is page ${to} now.` }))) return;
      close();
      reload();
    },
      field("Number", h("input", { name: "number", type: "number", min: "1", max: "9998", required: true, value: page.number, inputmode: "numeric" })),
      boxes("The rest", "along", [["yes", "All pages after it move by as much"]], ["yes"]),
      h("div", { class: "buttons" }, h("button", { class: "button first" }, "Renumber")));
    return element;
  });
}

export const showLaidAside = (state, reload) => laidAsideDialog(state.known.board.id, reload);

/** Numbers 1, 2, 3… in the order the pages have. */
export async function closeAllGaps(state, reload) {
  const answer = await attempt(() => closeGaps(state.known.board.id));
  if (!answer) return;
  say(answer.pages ? `${count(answer.pages, "page has", "pages have")} another number.` : "There are no gaps.");
  reload();
}
