import { askBeforeLeaving } from "../elements/ask_before_leaving.js";
import { field } from "../elements/field.js";
import { button, h, word } from "../elements/h.js";
import { keepFields, valuesOf } from "../elements/keep_fields.js";
import { wordsEdit } from "./words_edit.js";

/** One part is written at a time. `close()` keeps what was changed and says whether it could. */
const open = { /** @type {{page: number, close: () => Promise<boolean>, isChanged: () => boolean}|null} */ editor: null };

export const writtenOn = () => open.editor?.page ?? null;
export const closeEditor = async () => !open.editor || open.editor.close();

askBeforeLeaving(() => open.editor?.isChanged());

/**
 * Two fields in the place of a part's words.
 * @param {Element} place
 * @param {{page: any, kind: "pages"|"panels", row: any, typed?: Partial<Words>}} about `typed`: what was written before on that row and not kept
 * @param {{kept: (row) => any, left: (row, typed: Partial<Words>) => any, next: () => any}} then
 * @typedef {{happens: string, said: string}} Words
 */
export function openEditor(place, { page, kind, row, typed = {} }, then) {
  const areas = {
    happens: h("textarea", { name: "happens", rows: "3", value: typed.happens ?? row.happens, "data-key": "script-happens" }),
    said: h("textarea", { name: "said", rows: "3", value: typed.said ?? row.said, "data-key": "script-said" }),
  };
  const told = h("div", { role: "status" });
  const at = { /** @type {Promise<boolean>|null} */ closing: null };
  const edit = wordsEdit(kind, row);
  const changed = () => edit.changed(valuesOf(areas));
  const isChanged = () => Object.keys(changed()).length > 0;
  const finish = async () => {
    if (!(await keepFields(edit, areas, told))) return false;
    open.editor = null;
    then.kept(edit.row);
    return true;
  };
  const close = () => {
    at.closing ??= finish().finally(() => {
      at.closing = null;
    });
    return at.closing;
  };
  const leave = () => {
    if (at.closing) return;
    open.editor = null;
    then.left(edit.row, changed());
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
