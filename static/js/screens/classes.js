import { addClass } from "../api/classes.js";
import { openDialog } from "../elements/dialog.js";
import { field, form } from "../elements/field.js";
import { h } from "../elements/h.js";
import { attempt } from "../elements/slips.js";

document.getElementById("new-class")?.addEventListener("click", () => openDialog("A new class", newClass));

function newClass() {
  return form({}, make,
    field("Title", h("input", { name: "title", required: true, maxlength: "200", autofocus: true })),
    h("div", { class: "pair" },
      field("Term", h("input", { name: "term", maxlength: "60" })),
      field("Its last day", h("input", { name: "ends_on", type: "date", required: true }))),
    field("Kept after that for so many days", h("input", { name: "kept_days", type: "number", min: "0", max: "3650", value: "180" }),
      "Then what its students made is listed for deletion. The rules of your school and your country come first."),
    h("div", { class: "buttons" }, h("button", { class: "button first" }, "Make the class")));
}

async function make(fields) {
  const made = await attempt(() => addClass({ ...fields, kept_days: Number(fields.kept_days) }));
  if (made) location.assign(`/classes/${made.id}`);
}
