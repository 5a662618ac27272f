import { choice, field } from "../elements/field.js";
import { h, word } from "../elements/h.js";
import { STAGES } from "../elements/words.js";
import { numbersTyped } from "../uploads/file_names.js";
import { isAhead, pageOf, pageWith, pictureWords } from "../uploads/matching.js";

const HOW = { same: "this very file is on the page already", file: "by its file name", name: "by the number in its name", likeness: "by its looks" };
// As board/management/watching/words.py has it.
const PANEL = "Left out: its name says a panel. A try at one panel is uploaded on the Desk.";
const LETTERS = ["A", "B", "C", "D", "E"];
const STATES = { waiting: "waits", again: "The line broke; it is tried again.", sent: "uploaded; it is being read …", read: "uploaded", stopped: "not sent" };
const SIZE = new Intl.NumberFormat(undefined, { maximumFractionDigits: 1 });
let made = 0;

/** One file in the table: what it looks like, which page, stage and alternate it is for, and how far it came. */
export function uploadRow({ file, match, canvas }, { pages, may }, { change, remove }) {
  /** @type {Record<string, any>} */
  const row = { id: ++made, file, state: "", part: 0, words: "", corners: null };
  let isGuess = true;
  let shared = { isFirst: true, words: "" }; // of others for the same place
  const number = h("input", { type: "text", maxlength: "11", autocomplete: "off", value: match.how === "same" ? "" : (match.numbers ?? []).join("-"),
    oninput: () => { isGuess = false; place(); change(); } });
  row.numbers = () => numbersTyped(number.value);
  const isBeside = (page) => alternate.value !== page.chosen_alternate;
  const known = () => pageOf(pages, row.numbers());
  // Of a spread that is none on the board: one of its numbers is another page's.
  const isTaken = () => !known() && (row.numbers() ?? []).some((one) => pageWith(pages, one));
  const letters = [...new Set([...LETTERS, match.alternate ?? "A", ...pages.map((page) => page.chosen_alternate)])];
  const alternate = choice(letters.map((one) => [one, one]), "", { onchange: () => { alternate.dataset.byHand = "yes"; place(); change(); } });
  const stage = choice(STAGES.map((one) => [one, one]), match.stage ?? known()?.stage ?? STAGES[0], { onchange: () => { stage.dataset.byHand = "yes"; change(); } });
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
    row.lane = page ? `page ${page.id}` : (row.numbers()?.[0] ?? row.id);
    row.page = null;
    if (!alternate.dataset.byHand) alternate.value = match.alternate ?? page?.chosen_alternate ?? LETTERS[0];
    if (!match.stage && !stage.dataset.byHand) stage.value = page?.stage ?? STAGES[0];
    tell();
  }
  function tell() {
    why.textContent = [wordsOf(known()), shared.words, row.corners && "Laid flat by its four corners."].filter(Boolean).join(" ");
  }
  function wordsOf(page) {
    const numbers = row.numbers()?.join("-");
    if (!numbers) return leftOut();
    if (isTaken()) return `Pages ${numbers} are not one spread on the board. Add it on the Wall as a spread.`;
    if (!page) return may.add_pages ? newWords(numbers) : `There is no page ${numbers} that you draw.`;
    const because = isGuess && HOW[match.how] ? `, ${HOW[match.how]}` : "";
    return `Page ${page.numbers.join("-")}${because}: ${isBeside(page) ? `another try, beside the chosen ${page.chosen_alternate}` : becomes(page)}.`;
  }
  const becomes = (page) => (page.current_revision || shared.isFirst ? pictureWords(page, stage.value) : "a new revision");
  function leftOut() {
    if (number.value.trim()) return "Left out: a page is a number like 6, a spread like 6-7.";
    if (isGuess && match.how === "panel") return PANEL;
    return isGuess && match.how === "same" ? `Left out: ${HOW.same}.` : "Left out, until you give it a page.";
  }
  const newWords = (numbers) => `A new ${row.numbers().length > 1 ? "spread" : "page"} ${numbers}.${alternate.value === LETTERS[0] ? "" : " It shows its alternate A until another is chosen."}`;
  Object.assign(row, {
    placed: () => `${row.lane} ${stage.value} ${alternate.value}`,
    share: (now = { isFirst: true, words: "" }) => { shared = now; tell(); },
    isNew: () => row.numbers() !== null && !known(),
    isAhead: () => Boolean(known()) && !isBeside(known()) && isAhead(known(), stage.value),
    fits: () => row.numbers() !== null && (Boolean(known()) || (may.add_pages && !isTaken())),
    fields: () => ({ image: file, stage: stage.value, alternate: alternate.value, corners: row.corners && JSON.stringify(row.corners) }),
    lock: (isLocked) => { for (const control of [number, stage, alternate, flat, out]) if (control) control.disabled = isLocked; },
    show: () => {
      bar.hidden = !["sending", "again"].includes(row.state);
      bar.value = row.part;
      const how = row.reading ?? row.state;
      state.className = ["refused", "broken", "unopened"].includes(how) ? "small upload-state fault" : "small upload-state";
      state.textContent = row.state === "sending" ? `${Math.round(100 * row.part)} %` : (STATES[how] ?? row.words);
    },
    element: h("li", { class: "upload-row" },
      h("div", { class: "upload-look" }, canvas ?? h("span", { class: "small quiet" }, "no preview")),
      h("div", { class: "upload-facts" }, h("p", {}, h("strong", { class: "upload-name" }, file.name), " ", h("span", { class: "small quiet figure" }, sizeOf(file))), why, bar, state),
      field("Page", number), field("Stage", stage), field("Alternate", alternate), h("div", { class: "upload-deeds" }, flat, out)),
  });
  number.setAttribute("aria-label", `Page of ${file.name}`);
  stage.setAttribute("aria-label", `Stage of ${file.name}`);
  alternate.setAttribute("aria-label", `Alternate of ${file.name}`);
  place();
  return row;
}

const sizeOf = ({ size }) => (size < 1e6 ? `${SIZE.format(size / 1e3)} kB` : `${SIZE.format(size / 1e6)} MB`);
