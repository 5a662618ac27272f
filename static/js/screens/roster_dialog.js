import { importRoster, previewRoster } from "../api/classes.js";
import { openDialog } from "../elements/dialog.js";
import { field } from "../elements/field.js";
import { button, h, swap } from "../elements/h.js";
import { attempt, say } from "../elements/slips.js";
import { count } from "../elements/words.js";
import { classPeople } from "./class_people.js";
import { rosterText } from "./roster_file.js";

const DOES = { enrol: "is enrolled", invite: "is invited", change: "is changed", there: "stays as it is", nothing: "cannot be used" };
const EXAMPLE = "username,name,alias,minor\nfenwick,Fenwick Oar,,no\n,,Little Owl,yes";

const GUESSED = "The file is not in UTF-8; it was read as Windows-1252, as many spreadsheets write it. Look whether letters with accents are right.";

/** A roster as comma-separated values: looked at line by line before anything is written. */
export function rosterDialog(shell, changed) {
  openDialog("Roster", (close) => {
    const area = h("textarea", { rows: "8", spellcheck: "false", placeholder: EXAMPLE, class: "written" });
    const file = h("input", { type: "file", accept: ".csv,text/csv" });
    const known = { isGuessed: false };
    const told = h("div", { class: "stack", role: "status" });
    file.addEventListener("change", async () => {
      const [chosen] = file.files;
      const { text, isGuessed } = chosen ? rosterText(await chosen.arrayBuffer()) : { text: "", isGuessed: false };
      area.value = text;
      known.isGuessed = isGuessed;
      if (text) look();
    });
    area.addEventListener("input", () => {
      known.isGuessed = false;
      swap(told);
    });
    async function look() {
      const preview = await attempt(() => previewRoster(shell.class.id, area.value));
      if (preview) swap(told, known.isGuessed && h("p", { class: "hint" }, GUESSED), previewTable(preview), preview.lines.length > 0 && button(preview.faults ? "Mend the lines first" : "Take it over", take, { class: "button first", disabled: preview.faults > 0 }));
    }
    async function take() {
      const done = await attempt(() => importRoster(shell.class.id, area.value, 14));
      if (!done) return;
      say(`${count(done.enrolled.length, "student")} enrolled, ${count(done.invited.length, "student")} invited: their links are under “Links”.${done.changed ? ` ${count(done.changed, "student")} changed.` : ""}`);
      close();
      changed();
    }
    return [
      classPeople(shell, changed), h("h3", {}, "Bring in a roster"),
      field("From a file", file), field("Or written here", area, "The first line names the columns: username, name, alias, minor. Of a minor the alias alone is kept."),
      h("div", { class: "buttons" }, button("Look at it", look)), told,
      h("p", { class: "hint" }, "Bring no more than the class needs. The rules of your school and your country come first."),
    ];
  }, { isWide: true });
}

function previewTable({ lines, faults, missing }) {
  const head = ["Line", "Signs in as", "Name", "What happens"].map((words) => h("th", { scope: "col" }, words));
  return [
    h("p", { class: faults ? "fault" : "quiet" }, faults ? `${count(faults, "line")} cannot be used; nothing is written before all can.` : `${count(lines.length, "line")} can be used.`),
    h("div", { class: "ledger-frame", tabindex: "0", role: "region", "aria-label": "The roster, line by line" }, h("table", { class: "ledger" }, h("thead", {}, h("tr", {}, head)), h("tbody", {}, lines.map((one) => h("tr", {},
      h("td", { class: "figure" }, String(one.line)), h("td", {}, one.username), h("td", {}, one.alias || one.name, one.is_minor && h("span", { class: "sub" }, "minor")),
      h("td", {}, one.faults.length ? h("span", { class: "fault" }, one.faults.join(" ")) : DOES[one.does], one.remarks.map((words) => h("span", { class: "sub" }, words)))))))),
    missing.length > 0 && h("p", { class: "hint" }, `${count(missing.length, "student")} in the class ${missing.length > 1 ? "are" : "is"} not in this roster: ${missing.map((one) => one.name).join(", ")}. They stay; who left is deleted under “Data”, beside the name above.`),
  ];
}
