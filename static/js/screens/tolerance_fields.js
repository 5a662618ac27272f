import { field } from "../elements/field.js";
import { h } from "../elements/h.js";

/**
 * How far each check lets a drawing go; an empty field leaves it to the check.
 * @param {{id: string, label: string, tolerances: Record<string, number>}[]} checks @param {Record<string, Record<string, number>>} own
 */
export function toleranceFields(checks, own) {
  const named = checks.flatMap((check) => Object.entries(check.tolerances).map(([name, usual]) => [check, name, usual]));
  return h("details", {}, h("summary", {}, "Tolerances"), h("div", { class: "pair" }, named.map(([check, name, usual]) =>
    field(`${check.label}: ${name.replaceAll("_", " ")}`, h("input", {
      class: "tolerance", type: "number", min: "0", step: "any", placeholder: String(usual), value: own[check.id]?.[name] ?? "", "data-check": check.id, "data-name": name,
    })))));
}

/** What is written in them. */
export function tolerancesOf(root) {
  const own = {};
  for (const { value, dataset } of root.querySelectorAll(".tolerance")) {
    if (value !== "") own[dataset.check] = { ...own[dataset.check], [dataset.name]: Number(value) };
  }
  return own;
}
