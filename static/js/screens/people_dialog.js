import { addMember, changeMember, inviteToSeat, membersOf, removeMember, seatLinksOf, takeBackSeatLink } from "../api/boards.js";
import { boxes, ticked } from "../elements/boxes.js";
import { askFirst, openDialog } from "../elements/dialog.js";
import { field, form } from "../elements/field.js";
import { button, h, swap, word } from "../elements/h.js";
import { linkRow } from "../elements/link_row.js";
import { attempt } from "../elements/slips.js";
import { count, nameOf } from "../elements/words.js";

const ROLES = [
  ["editor", "editor"], ["artist", "artist"], ["student", "student"], ["instructor", "instructor"], ["reader", "reader"],
];

/** Who has a seat on this board, and with which roles. */
export function peopleDialog({ known }) {
  openDialog("People on this board", () => {
    const list = h("ul", { class: "rows" });
    const show = async () => {
      const members = await attempt(() => membersOf(known.board.id));
      if (members) swap(list, ...members.map((member) => memberRow(member, known, show)));
    };
    show();
    return [list, known.may.change_members && newMember(known.board.id, show), known.may.invite && byLink(known.board.id)];
  });
}

/** For those who have no account here yet, or whose name one does not know. */
function byLink(board) {
  const list = h("ul", { class: "rows" });
  const show = async () => {
    const rows = await attempt(() => seatLinksOf(board));
    if (rows) swap(list, ...rows.map((row) => linkRow(row, whomOf(row), () => takeBackSeatLink(row.id).then(show))));
  };
  const element = form({}, async ({ uses, days }) => {
    if (await attempt(() => inviteToSeat(board, { roles: ticked(element, "roles"), uses: Number(uses), days: Number(days) }), { done: "The link is made; it stands below." })) show();
  },
    h("h3", {}, "Invite by a link"),
    h("p", { class: "hint" }, "Whoever has it gets the seat, and an account if they have none: send it to them alone."),
    boxes("Roles by the link", "roles", ROLES, ["artist"]),
    h("div", { class: "pair" },
      field("For so many people", h("input", { name: "uses", type: "number", min: "1", max: "500", value: "1" })),
      field("Holds for so many days", h("input", { name: "days", type: "number", min: "1", max: "90", value: "14" }))),
    h("div", { class: "buttons" }, h("button", { class: "button" }, "Make the link")));
  show();
  return [element, list];
}

const whomOf = ({ roles, uses_left }) => `${roles.join(", ")}, ${count(uses_left, "more time", "more times")}`;

function memberRow(member, { may, me }, show) {
  const row = h("li", { "data-key": `member-${member.id}`, tabindex: "-1" },
    h("span", {}, h("strong", {}, nameOf(member.user)), ` ${member.roles.join(", ")}`));
  if (may.change_members) {
    row.append(
      word("Roles", () => row.replaceChildren(rolesOf(member, show)), { "aria-label": `Roles of ${nameOf(member.user)}` }));
  }
  if (member.user.id === me.id) row.append(word("Give up my seat", () => giveUp(member)));
  else if (may.change_members) {
    row.append(word("Remove", () => attempt(() => removeMember(member.id), { done: `${nameOf(member.user)} has no seat any more. What they wrote stays.` }).then(show),
      { "aria-label": `Remove ${nameOf(member.user)}` }));
  }
  return row;
}

function giveUp(member) {
  askFirst("Give up your seat?", "What you drew and wrote stays on the board. To come back you need a seat again.", "Give it up",
    () => attempt(() => removeMember(member.id)).then((gone) => gone && location.assign("/boards")));
}

function rolesOf(member, show) {
  const element = form({}, () => attempt(() => changeMember(member.id, ticked(element, "roles"))).then(show),
    boxes(`Roles of ${nameOf(member.user)}`, "roles", ROLES, member.roles),
    h("div", { class: "buttons" }, h("button", { class: "button first" }, "Save"), button("Leave it", show)));
  return element;
}

function newMember(board, show) {
  const element = form({}, async ({ username }) => {
    const added = await attempt(() => addMember(board, username.trim(), ticked(element, "roles")), { done: `${username} has a seat.` });
    if (!added) return;
    element.reset();
    show();
  },
    h("h3", {}, "Give a seat"),
    field("Signs in as", h("input", { name: "username", required: true, autocomplete: "off", autocapitalize: "none" })),
    boxes("Roles", "roles", ROLES, ["reader"]),
    h("div", { class: "buttons" }, h("button", { class: "button" }, "Give a seat")));
  return element;
}
