import { field } from "../elements/field.js";
import { h } from "../elements/h.js";

/** The lines of a rubric. @param {{id?: number, title: string, asks?: string}[]} rubric */
export function rubricFields(rubric) {
  return h("fieldset", { class: "stack" }, h("legend", { class: "legend" }, "Rubric; a line without a criterion is left out"), rubric.map((one) =>
    h("div", { class: "pair rubric-line", "data-id": one.id },
      field("Criterion", h("input", { class: "rubric-title", maxlength: "120", value: one.title })),
      field("What it asks", h("input", { class: "rubric-asks", maxlength: "500", value: one.asks ?? "" })))));
}

/** What is written in them. */
export function rubricOf(root) {
  const lines = [...root.querySelectorAll(".rubric-line")].map((line) => ({
    ...(line.dataset.id ? { id: Number(line.dataset.id) } : {}),
    title: line.querySelector(".rubric-title").value.trim(), asks: line.querySelector(".rubric-asks").value.trim(),
  }));
  return lines.filter((line) => line.title);
}
