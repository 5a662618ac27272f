import { previewScript, takeScript } from "../api/scripts.js";
import { boxes, ticked } from "../elements/boxes.js";
import { openDialog } from "../elements/dialog.js";
import { field } from "../elements/field.js";
import { button, h, swap } from "../elements/h.js";
import { attempt, say } from "../elements/slips.js";
import { count } from "../elements/words.js";
import { namesInWhatHappens, wordsIn } from "./script_facts.js";

const EXAMPLE = "Page 1\nNight at the quay.\n\nPanel 1\nRain on the mill.\nCAPTION: The last tide.\nPIM (off): Mind the edge!\n\nPages 2-3\nOne picture over both.";
const FIRST_WORDS = 60;

/** A comic's script: looked at page by page before anything is written. */
export function scriptDialog({ known }, reload) {
  openDialog("Bring in a script", (close) => {
    const area = h("textarea", { rows: "10", placeholder: EXAMPLE, class: "written" });
    const file = h("input", { type: "file", accept: ".txt,.md,text/plain,text/markdown" });
    const told = h("div", { class: "stack", role: "status" });
    const looked = { text: "", answer: "" };
    area.addEventListener("input", () => told.replaceChildren());
    file.addEventListener("change", async () => {
      area.value = (await file.files[0]?.text()) ?? "";
      if (area.value) look();
    });
    async function look() {
      const text = area.value;
      const preview = await attempt(() => previewScript(known.board.id, text));
      if (!preview || text !== area.value) return;
      Object.assign(looked, { text, answer: JSON.stringify(preview) });
      swap(told, ...previewOf(preview, take));
    }
    /** What was looked at is what is done: neither another text, nor over words that came to the board meanwhile. */
    async function take() {
      const now = await attempt(() => previewScript(known.board.id, looked.text));
      if (!now) return;
      if (JSON.stringify(now) !== looked.answer) {
        say("The board was changed meanwhile. Look at what becomes of it now.", { isFault: true });
        look();
        return;
      }
      const done = await attempt(() => takeScript(known.board.id, looked.text, ticked(told, "replaces").length > 0));
      if (!done) return;
      say(`${count(done.added, "page")} added, ${count(done.written, "page")} written on.`);
      close();
      reload();
    }
    return [
      field("From a text file", file),
      field("Or written here", area, "A line “Page 4” or “Pages 4-5” begins a page, “Panel 2” that panel of it; panels that are left out stay as they are. Who speaks stands in capitals, before a colon, or above their words with a bare line before it."),
      h("div", { class: "buttons" }, button("Look at it", look)), told,
    ];
  }, { isWide: true });
}

function previewOf({ pages, before, faults }, take) {
  const written = pages.filter((page) => page.does === "written").length;
  const isIdle = pages.every((page) => page.does === "same");
  const words = faults ? `${count(faults, "page")} cannot be taken over; nothing is written before all can.` : `${count(pages.length, "page")} in the script.`;
  const head = ["Page", "Panels", "It begins", "Words said", "What becomes of it"].map((one) => h("th", { scope: "col" }, one));
  return [
    h("p", { class: faults ? "fault" : "quiet" }, words, before.length > 0 && ` ${count(before.length, "line")} before the first page ${before.length === 1 ? "is" : "are"} left out.`),
    h("div", { class: "ledger-frame", tabindex: "0", role: "region", "aria-label": "The script, page by page" },
      h("table", { class: "ledger" }, h("thead", {}, h("tr", {}, head)), h("tbody", {}, pages.map(pageRow)))),
    written > 0 && boxes("Pages that have other words already", "replaces", [["yes", `The script's words take the place of those on ${count(written, "page")}`]]),
    isIdle ? h("p", {}, "All of it stands on the board already.")
      : button(faults ? "Mend the script first" : "Take it over", take, { class: "button first", disabled: faults > 0 }),
  ].filter(Boolean);
}

function pageRow(page) {
  const parts = [page, ...page.panels];
  const names = namesInWhatHappens(parts);
  return h("tr", {},
    h("td", { class: "figure" }, page.numbers.join("-")), h("td", { class: "figure" }, String(page.panels.length)),
    h("td", {}, firstWords(page), names.length > 0 && h("p", { class: "fault small" }, `${names.join(", ")}: read as what happens, since a line stands right above. Where they speak, put a bare line there.`)),
    h("td", { class: "figure" }, String(wordsIn(parts))), h("td", {}, page.faults.length ? h("span", { class: "fault" }, `Line ${page.line}: ${page.faults.join(" ")}`) : becomes(page)));
}

function firstWords({ happens, said, panels }) {
  const words = [happens, said, ...panels.flatMap((panel) => [panel.happens, panel.said])].find(Boolean) ?? "";
  return words.length > FIRST_WORDS ? `${words.slice(0, FIRST_WORDS)} …` : words;
}

const BECOMES = { add: "is added", same: "the same words are there", written: "has other words already", write: "is written on" };

function becomes({ does, panels, panels_here, told }) {
  const differs = panels_here > 0 && panels.length !== panels_here ? `; ${count(panels_here, "panel")} on the board` : "";
  return [BECOMES[does] + differs, told.join(" ")].filter(Boolean).join(". ");
}
