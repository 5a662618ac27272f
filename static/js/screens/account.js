import { changePassword, rename, takeBackTokens } from "../api/account.js";
import { field, form } from "../elements/field.js";
import { button, h } from "../elements/h.js";
import { attempt } from "../elements/slips.js";

const root = document.getElementById("account");
const told = h("p", {});
const takeBack = button("Take all back", () => attempt(takeBackTokens, { done: "No program can use them any more." }).then((done) => done && tellTokens(0)));
root.append(nameSheet(), passwordSheet(), programsSheet());

function sheet(id, heading, ...inside) {
  return h("section", { class: "sheet", "aria-labelledby": id }, h("h2", { id }, heading), ...inside);
}

function nameSheet() {
  return sheet("of-name", "Your name", form({}, ({ name }) => attempt(() => rename(name), { done: "Others read it so from now on." }),
    field("Name", h("input", { name: "name", maxlength: "150", autocomplete: "name", value: root.dataset.name }), "As others on your boards read it. In a class your alias stands for it."),
    h("div", { class: "buttons" }, h("button", { class: "button first" }, "Keep this name"))));
}

function passwordSheet() {
  const secret = (label, name, autocomplete, hint) =>
    field(label, h("input", { name, type: "password", required: true, autocomplete, minlength: autocomplete === "new-password" && "8" }), hint);
  return sheet("of-password", "Your password", form({}, change,
    secret("Password until now", "old", "current-password"),
    secret("New password", "fresh", "new-password", "Of 8 characters or more, and not one that many people use."),
    secret("New password once more", "again", "new-password"),
    h("p", { class: "hint" }, "Wherever else you are signed in, you are signed out; programs need a new token."),
    h("div", { class: "buttons" }, h("button", { class: "button first" }, "Change it"))));
}

async function change({ old, fresh, again }, element) {
  const last = element.elements.namedItem("again");
  last.setCustomValidity(fresh === again ? "" : "The two are not the same.");
  last.addEventListener("input", () => last.setCustomValidity(""), { once: true });
  if (!element.reportValidity()) return;
  if (await attempt(() => changePassword(old, fresh), { done: "It is changed. This window stays signed in." })) {
    element.reset();
    tellTokens(0);
  }
}

function programsSheet() {
  tellTokens(Number(root.dataset.tokens));
  return sheet("of-programs", "Your programs", told,
    h("p", { class: "hint" }, "A program gets a token for your name and password, by ", h("code", {}, "POST /api/v1/tokens"), ". What it can ask with it stands in ",
      h("a", { href: "/api/v1/schema?format=json" }, "the API’s description"), " (OpenAPI 3.1; also ", h("a", { href: "/api/v1/schema" }, "as YAML"), ")."),
    h("div", { class: "buttons" }, takeBack));
}

function tellTokens(count) {
  told.textContent = count ? `${count} ${count === 1 ? "token speaks" : "tokens speak"} for you.` : "No program has a token of yours.";
  takeBack.disabled = !count;
}
