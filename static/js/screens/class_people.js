import { changeEnrolment, enrol, invitationsOf, studentsOf } from "../api/classes.js";
import { field, form } from "../elements/field.js";
import { button, h, swap, word } from "../elements/h.js";
import { attempt } from "../elements/slips.js";

/** Who is in the class, with the alias that others read. @param {any} shell @param {() => void} changed */
export function classPeople(shell, changed) {
  const list = h("ul", { class: "rows" });
  const show = async () => {
    const [people, invited] = await attempt(() => Promise.all([studentsOf(shell.class.id), invitationsOf(shell.class.id)])) ?? [];
    if (people) swap(list, ...people.map((one) => personRow(one, again)), ...invited.filter(isForOne).map(invitedRow));
  };
  const again = () => {
    changed();
    return show();
  };
  show();
  return h("section", { class: "stack" }, h("h3", {}, "In the class"), list, newPerson(shell, again));
}

function personRow(one, show) {
  const key = `alias-${one.id}`;
  const row = h("li", { "data-key": `person-${one.id}`, tabindex: "-1" },
    h("span", {}, h("strong", {}, one.name), ` ${one.place === "instructor" ? "instructs, " : ""}signs in as ${one.username}${one.is_minor ? ", minor" : ""}`));
  const back = () => show().then(() => /** @type {HTMLElement|null} */ (document.querySelector(`[data-key="${key}"]`))?.focus());
  const write = () => {
    row.replaceChildren(aliasOf(one, back));
    row.querySelector("input").focus();
  };
  row.append(word("Alias", write, { "aria-label": `Alias of ${one.name}`, "data-key": key }),
    h("a", { href: `/enrolments/${one.id}/progress` }, "Data", h("span", { class: "out-of-sight" }, ` of ${one.name}`)));
  return row;
}

/** By the roster; a link for whoever has it names nobody. */
const isForOne = ({ username, name, alias }) => Boolean(username || name || alias);

function invitedRow({ id, username, name, alias, expires_at }) {
  const state = new Date(expires_at) < new Date() ? "invited, but the link has ended" : "invited, not here yet";
  return h("li", { "data-key": `invited-${id}`, tabindex: "-1" }, h("span", {}, h("strong", {}, alias || name || username), " ", h("span", { class: "quiet" }, state)));
}

function aliasOf(one, back) {
  return form({}, async ({ alias, is_minor }) => {
    if (await attempt(() => changeEnrolment(one.id, { alias: alias.trim(), is_minor: Boolean(is_minor) }), { done: "Saved." })) back();
  },
    field(`Alias of ${one.name}`, h("input", { name: "alias", maxlength: "60", value: one.alias })),
    h("div", { class: "choices" }, h("label", {}, h("input", { type: "checkbox", name: "is_minor", checked: one.is_minor }), "a minor")),
    h("div", { class: "buttons" }, h("button", { class: "button first" }, "Save"), button("Leave it", back)));
}

function newPerson(shell, show) {
  return form({}, async ({ username, place }, element) => {
    if (!(await attempt(() => enrol(shell.class.id, { username: username.trim(), place: place ? "instructor" : "student" }), { done: "Enrolled." }))) return;
    element.reset();
    show();
  },
    field("Enrol who has an account here: signs in as", h("input", { name: "username", required: true, autocomplete: "off", autocapitalize: "none" })),
    h("div", { class: "choices" }, h("label", {}, h("input", { type: "checkbox", name: "place" }), "as an instructor")),
    h("div", { class: "buttons" }, h("button", { class: "button" }, "Enrol")));
}
