import { acceptSeat } from "../api/boards.js";
import { acceptInvitation } from "../api/classes.js";
import { field, form } from "../elements/field.js";
import { h } from "../elements/h.js";
import { attempt, whisper } from "../elements/slips.js";

const sheet = document.getElementById("join");
const secret = location.hash.slice(1);
const isKnown = Boolean(sheet.dataset.me);
const toClass = sheet.dataset.to === "class";

sheet.append(secret ? joinForm() : h("p", { class: "fault", role: "alert" }, "This link is not whole. Copy all of it, with what stands behind the #."));

function joinForm() {
  return form({}, join,
    !isKnown && [
      field("You sign in as", h("input", { name: "username", autocomplete: "username", autocapitalize: "none" }), toClass ? "Leave it empty if your link was made for you alone." : "One word, without spaces."),
      field("Password", h("input", { name: "password", type: "password", required: true, autocomplete: "new-password", minlength: "8" })),
    ],
    ...(toClass ? ofClass() : [!isKnown && field("Name", h("input", { name: "name", maxlength: "150", autocomplete: "name" }), "As others on the board read it.")]),
    h("div", { class: "buttons" }, h("button", { class: "button first" }, "Join")));
}

// A function, not a constant: the form is made above, before the module has come to this line.
function ofClass() {
  return [
    field("Alias", h("input", { name: "alias", maxlength: "60" }), "Stands for your name wherever others in the class read it."),
    h("div", { class: "choices" }, h("label", {}, h("input", { type: "checkbox", name: "is_minor" }), "I am a minor: keep the alias only")),
  ];
}

async function join({ is_minor, username, ...fields }) {
  const given = Object.fromEntries(Object.entries({ ...fields, username: username?.trim() }).filter(([, value]) => value));
  const joined = await attempt(() => (toClass ? acceptInvitation({ secret, is_minor: Boolean(is_minor), ...given }) : acceptSeat({ secret, ...given })));
  if (!joined) return;
  const there = toClass ? `/classes/${joined.school_class}` : `/boards/${joined.board}`;
  if (isKnown) location.assign(there);
  else {
    whisper(`You are in. Sign in as ${joined.username}.`);
    sheet.replaceChildren(h("h1", {}, "You are in"), h("p", {}, "You sign in as ", h("strong", {}, joined.username), "."),
      h("p", {}, h("a", { class: "button first", href: `/sign-in?next=${there}` }, "Sign in")));
  }
}
