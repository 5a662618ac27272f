import { askBeforeLeaving } from "./ask_before_leaving.js";
import { h } from "./h.js";
import { attempt } from "./slips.js";

/**
 * Keeps what was changed in a form's fields. Where somebody else changed the same field meanwhile, theirs is shown, and one's own takes its
 * place the second time; what was not changed here is shown as it is now.
 * @param {import("../api/row_edit.js").RowEdit} edit
 * @param {Record<string, any>} controls name of a field -> its textarea, select or checkbox
 * @param {Element} told a live region
 * @returns {Promise<boolean>} whether it is kept
 */
export async function keepFields(edit, controls, told) {
  told.replaceChildren();
  const found = await attempt(() => held(Object.values(controls), () => edit.keep(valuesOf(controls))));
  if (!found) return false;
  for (const [name, value] of Object.entries(found.taken)) put(controls[name], value);
  const conflicts = Object.entries(found.conflicts);
  if (!conflicts.length) return true;
  told.append(h("p", { class: "fault" }, "Somebody wrote here meanwhile. Keep yours, and it takes the place of this:"),
    h("dl", { class: "theirs" }, conflicts.map(([name, value]) => [h("dt", {}, labelOf(controls[name])), h("dd", { class: "words" }, wordsOf(controls[name], value))])));
  return false;
}

/** @returns {Record<string, any>} */
export const valuesOf = (controls) => Object.fromEntries(Object.entries(controls).map(([name, control]) => [name, isBox(control) ? control.checked : control.value]));

const isBox = ({ type }) => type === "checkbox";

function put(control, value) {
  if (isBox(control)) control.checked = value;
  else control.value = value;
}

const labelOf = ({ labels }) => labels[0]?.textContent ?? "";

function wordsOf(control, value) {
  if (isBox(control)) return value ? "yes" : "no";
  const chosen = [...(control.options ?? [])].find((option) => option.value === value);
  return chosen?.textContent || value || "nothing";
}

/** Meanwhile nothing can be typed: it would be lost. @template T @param {any[]} controls @param {() => Promise<T>} doing */
async function held(controls, doing) {
  const typed = controls.filter((one) => "readOnly" in one);
  const isPast = askBeforeLeaving(() => true);
  for (const one of typed) one.readOnly = true;
  try {
    return await doing();
  } finally {
    isPast();
    for (const one of typed) one.readOnly = false;
  }
}
