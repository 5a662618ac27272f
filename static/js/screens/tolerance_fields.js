import { field } from "../elements/field.js";
import { h } from "../elements/h.js";

/** As people read it, and as it is kept. */
const shown = (kept, times) => Number((kept * times).toPrecision(6));
const kept = (read, times) => Number((read / times).toPrecision(12));

/**
 * How far each check lets a drawing go, in the units that people read; an empty field leaves it to the check.
 * @typedef {{name: string, label: string, unit: string, times: number, means: string}} Told
 * @param {{id: string, label: string, tolerances: Record<string, number>, tolerances_told: Told[]}[]} checks @param {Record<string, Record<string, number>>} own
 */
export function toleranceFields(checks, own) {
  return h("details", {}, h("summary", {}, "Tolerances"),
    h("p", { class: "hint" }, "How far a drawing may go before a note is made. What is left empty is as it stands there in grey."),
    checks.filter((check) => check.tolerances_told.length).map((check) => h("fieldset", {}, h("legend", { class: "legend" }, check.label),
      h("div", { class: "level-fields" }, check.tolerances_told.map((told) => toleranceField(check, told, own[check.id]?.[told.name]))))));
}

function toleranceField(check, { name, label, unit, times, means }, own) {
  return field(`${label} (${unit})`, h("input", {
    class: "tolerance", type: "number", min: "0", step: "any", placeholder: String(shown(check.tolerances[name], times)),
    value: own === undefined ? "" : shown(own, times), "data-check": check.id, "data-name": name, "data-times": times,
  }), means);
}

/** What is written in them. */
export function tolerancesOf(root) {
  const own = {};
  for (const { value, dataset } of root.querySelectorAll(".tolerance")) {
    if (value !== "") own[dataset.check] = { ...own[dataset.check], [dataset.name]: kept(Number(value), Number(dataset.times)) };
  }
  return own;
}
