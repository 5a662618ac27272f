import { readHandIn } from "../api/assignments.js";
import { button, h } from "../elements/h.js";
import { readingCame, readingFailed } from "../elements/readings.js";
import { stageWord } from "../elements/stage_mark.js";
import { spell } from "../elements/time_fields.js";
import { extensionDialog } from "./extension_dialog.js";

const shell = JSON.parse(document.getElementById("shell").textContent);
const exact = (iso) => new Intl.DateTimeFormat(undefined, { dateStyle: "long", timeStyle: "medium" }).format(new Date(iso));
const row = (name, ...value) => [h("dt", {}, name), h("dd", {}, ...value)];

load();

async function load() {
  try {
    show(await readHandIn(shell.hand_in));
    readingCame();
  } catch (error) {
    readingFailed(error, "receipt", load);
  }
}

function show(one) {
  const sheet = document.getElementById("receipt");
  sheet.setAttribute("aria-busy", "false");
  sheet.append(
    h("div", { class: "receipt-head" }, h("h1", {}, "Handed in"), h("span", { class: "figure" }, one.receipt)),
    h("dl", {},
      row("Assignment", one.assignment_title), row("By", one.by), row("Stage", stageWord(one.stage)),
      row("At", exact(one.handed_in_at)),
      row("Due", one.due_at ? exact(one.due_at) : "no deadline", h("span", { class: "sub" }, timing(one))),
      row("Pages", one.files.map((file) => h("span", { class: "sub" }, `Page ${file.page}: `, h("span", { class: "figure" }, file.sha256.slice(0, 16))))),
      row("Digest of all", h("span", { class: "figure" }, one.digest))),
    h("p", { class: "hint" }, "The digest is the SHA-256 over the lines “page number, SHA-256 of its file”: whoever has the files can work it out again."),
    h("div", { class: "buttons" }, h("a", { class: "button", href: `/assignments/${one.assignment}` }, "Back to the assignment"),
      shell.instructs && one.due_at && button("Give more time", () => extensionDialog({ changed: () => location.reload() }, { student: one.by, work: one.work }, one)), button("Print", () => print())));
}

function timing({ minutes_late, stage, number_in_stage: number }) {
  const again = number > 1 ? ` It is hand-in ${number} of the ${stage} stage; the last one counts.` : "";
  return (minutes_late ? `${spell(minutes_late)} late.` : "In time.") + again;
}
