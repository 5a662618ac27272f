import { askFirst, openDialog } from "../elements/dialog.js";
import { field, form } from "../elements/field.js";
import { h } from "../elements/h.js";
import { attempt } from "../elements/slips.js";
import { localTime } from "../elements/time_fields.js";
import { whatEnds } from "./class_days.js";

/** Title, term and how long a class is kept. @param {any} one what it is now @param {(fields: object) => Promise<any>} save */
export function classDialog(title, one, yes, save) {
  const send = (close) => async (values) => {
    const ends = whatEnds(one, values, localTime(new Date()).slice(0, 10));
    const sent = async () => {
      if (await attempt(() => save({ ...values, kept_days: Number(values.kept_days) }))) close();
    };
    if (ends) askFirst("Is this day meant?", ends, yes, sent);
    else await sent();
  };
  openDialog(title, (close) => form({}, send(close),
    field("Title", h("input", { name: "title", required: true, maxlength: "200", autofocus: true, value: one.title ?? "" })),
    h("div", { class: "pair" },
      field("Term", h("input", { name: "term", maxlength: "60", value: one.term ?? "" })),
      field("Its last day", h("input", { name: "ends_on", type: "date", required: true, value: one.ends_on ?? "" }))),
    field("Kept after that for so many days", h("input", { name: "kept_days", type: "number", min: "0", max: "3650", value: one.kept_days ?? 180 }),
      "Then “manage.py expire_classes” lists what its students made for deletion, to whoever runs the server; nothing is deleted without them. The rules of your school and your country come first."),
    h("div", { class: "buttons" }, h("button", { class: "button first" }, yes))));
}
