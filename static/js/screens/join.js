import { Problem, csrfToken } from "../api/http.js";
import { acceptInvitation, acceptSeat, previewInvitation, previewSeat } from "../api/links.js";
import { field, form } from "../elements/field.js";
import { h } from "../elements/h.js";
import { attempt } from "../elements/slips.js";

const sheet = document.getElementById("join");
const secret = location.hash.slice(1);
const isKnown = Boolean(sheet.dataset.me);
const toClass = sheet.dataset.to === "class";
const NOT_WHOLE = "This link is not whole. Copy all of it, with what stands behind the #.";

if (!secret) refuse(NOT_WHOLE);
else tellFirst();

/** What the link opens is told before anything is asked. */
async function tellFirst() {
  try {
    const opened = await (toClass ? previewInvitation : previewSeat)(secret);
    const head = sheet.querySelector("h1");
    head.textContent = `Join “${toClass ? opened.class_title : opened.board_title}”`;
    head.after(...(toClass ? whomWords(opened) : [h("p", {}, `You get a seat on its board: ${opened.roles.join(", ")}.`)]));
    sheet.append(joinForm(toClass ? opened : null));
  } catch (problem) {
    if (!(problem instanceof Problem)) throw problem;
    refuse(problem.words);
  }
}

/** Nothing is asked where nothing opens. */
function refuse(words) {
  sheet.replaceChildren(sheet.querySelector("h1"), h("p", { class: "fault", role: "alert" }, words));
}

function whomWords({ username, alias }) {
  const words = [!isKnown && username && `You sign in as ${username}.`, alias && `Others in the class read you as ${alias}.`].filter(Boolean);
  return words.length ? [h("p", {}, words.join(" "))] : [];
}

/** @param {any|null} opened what a link into a class opens, and for whom */
function joinForm(opened) {
  const isPersonal = Boolean(opened?.username);
  return form({}, join,
    !isKnown && [
      isPersonal ? h("input", { type: "hidden", name: "username", autocomplete: "username", value: opened.username })
        : field("You sign in as", h("input", { name: "username", autocomplete: "username", autocapitalize: "none", required: true }), "One word, without spaces."),
      field("Password", h("input", { name: "password", type: "password", required: true, autocomplete: "new-password", minlength: "8" }),
        "Of 8 characters or more, and not one that many people use."),
    ],
    ...(opened ? ofClass(opened) : [!isKnown && field("Name", h("input", { name: "name", maxlength: "150", autocomplete: "name" }), "As others on the board read it.")]),
    h("div", { class: "buttons" }, h("button", { class: "button first" }, "Join")));
}

/** Only what the link does not say already. */
function ofClass({ alias, is_minor }) {
  // Of a minor the alias alone is kept: where there is none yet, the browser leads to its field.
  const own = h("input", { name: "alias", maxlength: "60", required: is_minor });
  const minor = h("input", { type: "checkbox", name: "is_minor", onchange: () => { own.required = minor.checked; } });
  return [
    !alias && field("Alias", own, "Stands for your name wherever others in the class read it."),
    !is_minor && h("div", { class: "choices" }, h("label", {}, minor, "I am a minor: keep the alias only")),
  ];
}

async function join({ is_minor, username, ...fields }) {
  const given = Object.fromEntries(Object.entries({ ...fields, username: username?.trim() }).filter(([, value]) => value));
  const joined = await attempt(() => (toClass ? acceptInvitation({ secret, is_minor: Boolean(is_minor), ...given }) : acceptSeat({ secret, ...given })));
  if (!joined) return;
  const there = toClass ? `/classes/${joined.school_class}` : `/boards/${joined.board}`;
  if (isKnown) location.assign(there);
  else signIn(joined.username, given.password, there);
}

/** With the password that was chosen just now, by the very form of the sign-in screen. */
function signIn(username, password, next) {
  const fields = { csrfmiddlewaretoken: csrfToken(), username, password, next };
  const sent = h("form", { method: "post", action: "/sign-in", hidden: true }, Object.entries(fields).map(([name, value]) => h("input", { type: "hidden", name, value })));
  document.body.append(sent);
  sent.submit();
}
