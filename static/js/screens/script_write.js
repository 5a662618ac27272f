import { Problem } from "../api/http.js";
import { changePage, changePanel, panelsOfPage, readPage } from "../api/pages.js";
import { field } from "../elements/field.js";
import { button, h, word } from "../elements/h.js";
import { say } from "../elements/slips.js";

/** One part is written at a time. `close()` keeps what was changed and says whether it could. */
const open = { /** @type {{page: number, close: () => Promise<boolean>, isChanged: () => boolean}|null} */ editor: null };

export const writtenOn = () => open.editor?.page ?? null;
export const closeEditor = async () => !open.editor || open.editor.close();

addEventListener("beforeunload", (event) => open.editor?.isChanged() && event.preventDefault());

/**
 * Two fields in the place of a part's words.
 * @param {Element} place
 * @param {{page: any, kind: "pages"|"panels", row: any, typed?: {happens: string, said: string}}} about `typed`: what was written before and not kept
 * @param {{kept: (row) => any, left: (typed: {happens: string, said: string}|null) => any, next: () => any}} then
 */
export function openEditor(place, { page, kind, row, typed = row }, then) {
  const areas = {
    happens: h("textarea", { name: "happens", rows: "3", value: typed.happens, "data-key": "script-happens" }),
    said: h("textarea", { name: "said", rows: "3", value: typed.said, "data-key": "script-said" }),
  };
  const told = h("div", { role: "status" });
  const at = { row, /** @type {Promise<boolean>|null} */ closing: null };
  const fields = () => ({ happens: areas.happens.value, said: areas.said.value });
  const isChanged = () => areas.happens.value !== at.row.happens || areas.said.value !== at.row.said;
  const finish = async () => {
    if (isChanged() && !(await keep(kind, at, fields(), told))) return false;
    open.editor = null;
    then.kept(at.row);
    return true;
  };
  const close = () => {
    at.closing ??= held(Object.values(areas), finish).finally(() => {
      at.closing = null;
    });
    return at.closing;
  };
  const leave = () => {
    if (at.closing) return;
    const left = isChanged() ? fields() : null;
    open.editor = null;
    then.left(left);
  };
  const goOn = () => close().then((isKept) => isKept && then.next());
  const form = h("form", { class: "script-form" },
    field("What happens", areas.happens), field("What is said", areas.said, "One line each, as NAME: words, CAPTION: words or SFX: word."), told,
    h("div", { class: "buttons" },
      h("button", { class: "button first" }, "Keep it"), button("Keep it and write the next", goOn), word("Leave it", leave)),
    h("p", { class: "hint" }, "Ctrl and Enter keep it and go on; Escape leaves it."));
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    close();
  });
  form.addEventListener("keydown", (event) => {
    if (event.isComposing || event.defaultPrevented) return;
    if (event.key === "Escape") leave();
    else if (event.key === "Enter" && (event.ctrlKey || event.metaKey)) goOn();
    else return;
    event.preventDefault();
  });
  open.editor = { page: page.id, isChanged, close };
  place.replaceChildren(form);
  areas.happens.focus();
}

/** Meanwhile nothing can be typed: it would be lost. @param {HTMLTextAreaElement[]} areas @param {() => Promise<boolean>} doing */
async function held(areas, doing) {
  for (const area of areas) area.readOnly = true;
  try {
    return await doing();
  } finally {
    for (const area of areas) area.readOnly = false;
  }
}

/** Where somebody else wrote there meanwhile, their words are shown, and a second time keeps one's own. */
async function keep(kind, at, fields, told) {
  try {
    at.row = await (kind === "pages" ? changePage : changePanel)(at.row, fields);
    return true;
  } catch (error) {
    if (!(error instanceof Problem)) throw error;
    if (error.status !== 412) {
      say(error.words, { isFault: true });
      return false;
    }
    at.row = await newest(kind, at.row);
    told.replaceChildren(h("p", { class: "fault" }, "Somebody wrote here meanwhile. Keep yours, and it takes the place of this:"),
      h("p", { class: "words" }, [at.row.happens, at.row.said].filter(Boolean).join("\n") || "nothing"));
    return false;
  }
}

const newest = async (kind, row) => (kind === "pages" ? readPage(row.id) : (await panelsOfPage(row.page)).find((one) => one.id === row.id) ?? row);
