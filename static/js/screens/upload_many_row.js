import { choice, field } from "../elements/field.js";
import { h, word } from "../elements/h.js";
import { STAGES } from "../elements/words.js";
import { pageWith } from "../uploads/matching.js";

const HOW = { same: "this very file is on the page already", file: "by its file name", name: "by the number in its name", likeness: "by its looks" };
const STATES = { waiting: "waits", again: "The line broke; it is tried again.", sent: "uploaded", stopped: "not sent" };
const SIZE = new Intl.NumberFormat(undefined, { maximumFractionDigits: 1 });
let made = 0;

/** One file in the table: what it looks like, which page and stage it is for, and how far it came. */
export function uploadRow({ file, match, canvas }, { pages, may }, { change, remove }) {
  /** @type {Record<string, any>} */
  const row = { id: ++made, file, state: "", part: 0, words: "", corners: null };
  let isGuess = true;
  const number = h("input", { type: "number", min: "1", max: "9999", inputmode: "numeric", value: match.how === "same" ? "" : (match.number ?? ""),
    oninput: () => { isGuess = false; place(); change(); } });
  row.number = () => (Number.isInteger(number.valueAsNumber) && number.valueAsNumber > 0 ? number.valueAsNumber : null);
  const known = () => pageWith(pages, row.number());
  const stage = choice(STAGES.map((one) => [one, one]), match.stage ?? known()?.stage ?? STAGES[0], { onchange: () => { stage.dataset.byHand = "yes"; } });
  const why = h("p", { class: "small quiet" });
  const bar = h("progress", { max: "1", value: 0, hidden: true, "aria-label": `Upload of ${file.name}` });
  const state = h("p", { class: "small upload-state" });
  const flat = canvas && word("Lay flat", async () => {
    const { cornersDialog } = await import("./corners_dialog.js");
    cornersDialog(file, row.corners, (corners) => { row.corners = corners; place(); });
  }, { "aria-label": `Lay the photographed page ${file.name} flat` });
  const out = word("Take off the list", () => { row.element.remove(); remove(); }, { "aria-label": `Take ${file.name} off the list` });

  function place() {
    const page = known();
    row.lane = row.number() ?? row.id;
    row.page = null;
    if (!match.stage && !stage.dataset.byHand) stage.value = page?.stage ?? STAGES[0];
    why.textContent = wordsOf(page) + (row.corners ? " Laid flat by its four corners." : "");
  }
  function wordsOf(page) {
    if (row.number() === null) return match.how === "same" && isGuess ? `Left out: ${HOW.same}.` : "Left out, until you give it a page.";
    if (!page) return may.add_pages ? `A new page ${row.number()}.` : `There is no page ${row.number()} that you draw.`;
    const because = isGuess && HOW[match.how] ? `, ${HOW[match.how]}` : "";
    return `Page ${page.numbers.join("-")}${because}: ${page.current_revision ? "a new revision" : "its first picture"}.`;
  }
  Object.assign(row, {
    isNew: () => row.number() !== null && !known(),
    fits: () => row.number() !== null && (Boolean(known()) || may.add_pages),
    fields: () => ({ image: file, stage: stage.value, corners: row.corners && JSON.stringify(row.corners) }),
    lock: (isLocked) => { for (const control of [number, stage, flat, out]) if (control) control.disabled = isLocked; },
    show: () => {
      bar.hidden = !["sending", "again"].includes(row.state);
      bar.value = row.part;
      state.className = ["refused", "broken"].includes(row.state) ? "small upload-state fault" : "small upload-state";
      state.textContent = row.state === "sending" ? `${Math.round(100 * row.part)} %` : (STATES[row.state] ?? row.words);
    },
    element: h("li", { class: "upload-row" },
      h("div", { class: "upload-look" }, canvas ?? h("span", { class: "small quiet" }, "no preview")),
      h("div", { class: "upload-facts" }, h("p", {}, h("strong", { class: "upload-name" }, file.name), " ", h("span", { class: "small quiet figure" }, sizeOf(file))), why, bar, state),
      field("Page", number), field("Stage", stage), h("div", { class: "upload-deeds" }, flat, out)),
  });
  number.setAttribute("aria-label", `Page of ${file.name}`);
  stage.setAttribute("aria-label", `Stage of ${file.name}`);
  place();
  return row;
}

const sizeOf = ({ size }) => (size < 1e6 ? `${SIZE.format(size / 1e3)} kB` : `${SIZE.format(size / 1e6)} MB`);
