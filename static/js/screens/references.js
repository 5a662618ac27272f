import { referencesOf, removeReference } from "../api/boards.js";
import { askFirst } from "../elements/dialog.js";
import { choice } from "../elements/field.js";
import { button, h, swap, word } from "../elements/h.js";
import { renditionFor } from "../elements/picture_part.js";
import { attempt } from "../elements/slips.js";
import { count } from "../elements/words.js";
import { dropFiles } from "../gestures/drop_file.js";
import { keepReading } from "./keep_reading.js";
import { KINDS, addReferences, changeDialog, kindWords } from "./references_dialogs.js";
import { State } from "./state.js";
import { shownBy, stillCameraDialog } from "./still_camera_dialog.js";

const SHOWN_PX = 640;
const LOOK_AGAIN_MS = 800;
const at = (id) => document.getElementById(id);
const { board, may, me, last_event: lastEvent } = JSON.parse(at("shell").textContent);
const state = new State({ references: null, kind: "" });
const again = { timer: 0 };

const load = keepReading({
  board: board.id, lastEvent, kinds: /^(reference|still|panel|page)/, read: () => referencesOf(board.id), show: (references) => state.set({ references }),
});

state.on(["references", "kind"], ({ references, kind }) => {
  if (!references) return;
  const shown = references.filter((one) => !kind || one.kind === kind);
  at("list").setAttribute("aria-busy", "false");
  at("sum").textContent = count(references.length, "picture") + (kind ? `; ${shown.length} shown` : "");
  swap(at("list"), ...(shown.length ? shown.map(card) : [teach()]));
  swap(at("tools"),
    may.add_references && button("Add pictures", () => addReferences(board.id, load), { class: "button first", "data-key": "add" }),
    kindChoice(references, kind));
  clearTimeout(again.timer);
  if (references.some((one) => one.state === "received")) again.timer = setTimeout(load, LOOK_AGAIN_MS);
});

function kindChoice(references, kind) {
  const kinds = [...KINDS, ["model-sheet", kindWords("model-sheet")]].filter(([one]) => one === kind || references.some((row) => row.kind === one));
  return kinds.length > 1 && choice([["", "all kinds"], ...kinds], kind, { "aria-label": "Kind", "data-key": "kind", class: "written references-kind", onchange: ({ target }) => state.set({ kind: target.value }) });
}

const teach = () => h("li", { class: "teach" }, h("h2", {}, "No references yet"),
  h("p", {}, "Stills of a modelled set, old backgrounds, poses, props. A still, tied to a panel on the Desk, shows beside it what the drawing should agree with, and the panel is measured against it."));

function card(one) {
  const rendition = renditionFor(one.renditions, SHOWN_PX);
  const mayChange = may.run_board || (may.write && one.uploaded_by?.id === me.id);
  const isReadStill = one.kind === "still" && one.state === "ready";
  return h("li", { class: "reference" },
    rendition
      ? h("a", { href: renditionFor(one.renditions, Infinity)?.url, target: "_blank", rel: "noopener", "data-key": `look-${one.id}` },
        h("img", { src: rendition.url, width: rendition.width_px, height: rendition.height_px, alt: `${one.title}, as large as it is kept`, loading: "lazy" }))
      : h("p", { class: one.state === "refused" ? "fault" : "quiet" }, one.state === "refused" ? one.reason : "being read …"),
    h("h2", {}, one.title),
    h("p", { class: "quiet small" }, kindWords(one.kind), isReadStill && `. ${shownBy(one)}`),
    one.panels.length > 0 && h("p", { class: "small" }, "Panels drawn from it: ", tied(one.panels)),
    mayChange && h("p", { class: "buttons small" },
      word("Change", () => changeDialog(one, load), { "data-key": `change-${one.id}`, "aria-label": `Change ${one.title}` }),
      isReadStill && may.run_board && word("Camera", () => stillCameraDialog(one, load), { "data-key": `camera-${one.id}`, "aria-label": `Camera of ${one.title}` }),
      word("Remove", () => remove(one), { "data-key": `remove-${one.id}`, "aria-label": `Remove ${one.title}` })));
}

const tied = (panels) => panels.flatMap(({ panel, page, page_numbers: numbers, order }, i) => [i > 0 && ", ", h("a", { href: `/pages/${page}?panel=${panel}` }, `page ${numbers.join("-")}, panel ${order}`)]);

function remove(one) {
  const words = one.panels.length ? `${count(one.panels.length, "panel")} drawn from it ${one.panels.length === 1 ? "is" : "are"} untied and no longer measured against it.` : "No panel is tied to it.";
  askFirst(`Remove ${one.title}?`, `${words} Figures and sheets that were marked on it go too.`, "Remove it", () => attempt(() => removeReference(one.id)).then(load));
}

if (may.add_references) dropFiles(document.querySelector(".references"), (files) => addReferences(board.id, load, files));
