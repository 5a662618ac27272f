import { pagesOfBoard } from "../api/pages.js";
import { upload } from "../api/upload.js";
import { openDialog } from "../elements/dialog.js";
import { choice, field, form } from "../elements/field.js";
import { button, h } from "../elements/h.js";
import { say } from "../elements/slips.js";
import { STAGES, unopenedWords } from "../elements/words.js";
import { dropFiles } from "../gestures/drop_file.js";
import { Reading } from "../uploads/reading.js";
import { TYPES } from "../uploads/types.js";

const LETTERS = [..."ABCDEFGH"];

/**
 * A new revision of a page: a file, its stage, and if wanted the letter of another try. Several files go to the table of many.
 * @param {{panels?: object[], panel?: number|null}} [of] the page's panels, where one of them may be drawn alone, and which one is
 */
export async function uploadDialog(page, done, files = [], { panels = [], panel = null } = {}) {
  if (files.length > 1) return (await import("./upload_many.js")).uploadMany({ ...shell(), pages: await pagesOfBoard(page.board) }, done, files);
  const [file = null] = files;
  return openDialog(`A picture for page ${page.numbers.join("-")}`, (close) => uploadForm({ page, panels, panel }, close, done, file));
}

const shell = () => JSON.parse(document.getElementById("shell").textContent);

function uploadForm({ page, panels, panel }, close, done, dropped) {
  let chosen = dropped;
  const name = h("p", { class: "hint", role: "status" }, dropped ? dropped.name : "PNG, JPEG, WebP, TIFF or OpenRaster. The file itself is kept untouched.");
  const input = h("input", { type: "file", accept: TYPES, required: !dropped, onchange: () => take(input.files[0]) });
  const take = (file) => {
    chosen = file ?? chosen;
    sketch.corners = null;
    flat.disabled = !chosen;
    name.textContent = chosen?.name ?? "";
    if (chosen) input.required = false;
  };
  const sketch = { corners: null };
  const flat = button("It is a photograph: lay it flat", async () => {
    const { cornersDialog } = await import("./corners_dialog.js");
    cornersDialog(chosen, sketch.corners, (corners) => {
      sketch.corners = corners;
      name.textContent = corners ? `${chosen.name}, laid flat by its four corners` : chosen.name;
    });
  }, { disabled: !dropped });
  const bar = h("progress", { max: "1", value: 0, hidden: true, "aria-label": "Upload" });
  const letters = choice([...new Set([...LETTERS, page.chosen_alternate])].map((letter) => [letter, letter]), "", { name: "alternate" });
  const shows = choice([["", "the whole page"], ...panels.map(({ id, order }) => [id, `panel ${order} alone`])], panel ?? "", { name: "panel" });
  const proposeLetter = () => { letters.value = letterFor(shows.value, page, panels); };
  shows.addEventListener("change", proposeLetter);
  proposeLetter();
  const element = form({}, (values) => send({ page, panels }, chosen, { ...values, corners: sketch.corners && JSON.stringify(sketch.corners) }, { bar, close, done, element }),
    field("Picture", input), name, h("div", { class: "buttons" }, flat),
    panels.length > 0 && field("What it shows", shows, "A panel drawn alone is another try at it, beside the page."),
    h("div", { class: "pair" },
      field("Stage", choice(STAGES.map((stage) => [stage, stage]), shell().next_stage ?? page.stage, { name: "stage" }),
        page.current_revision ? "A picture for another stage is kept there and moves nothing." : "A page begins at the stage of its first picture; in a class it waits for the hand-in."),
      field("Alternate", letters, "Another try: give it another letter; none is lost.")),
    field("Minutes spent (if you like)", h("input", { name: "minutes_spent", type: "number", min: "0", max: "100000", inputmode: "numeric" })),
    bar,
    h("div", { class: "buttons" }, h("button", { class: "button first" }, "Upload")));
  dropFiles(element, (files) => {
    if (files.length === 1) return take(files[0]);
    close();
    return uploadDialog(page, done, files, { panels, panel });
  });
  return element;
}

/** The page's own, or the next that no try at this panel has. */
function letterFor(panel, page, panels) {
  if (!panel) return page.chosen_alternate;
  const taken = panels.find(({ id }) => id === Number(panel))?.row.alternates ?? [];
  return LETTERS.slice(1).find((letter) => !taken.includes(letter)) ?? LETTERS.at(-1);
}

/** A later stage's picture is not the page's yet: one looks for it in vain where one was. */
function uploadedWords(name, { stage, panel, alternate }, { page, panels }) {
  if (panel) return `${name} is uploaded as alternate ${alternate} of panel ${panels.find(({ id }) => id === Number(panel)).order}. It lies under “Tries side by side”.`;
  if (STAGES.indexOf(stage) <= STAGES.indexOf(page.stage)) return `${name} is uploaded. What is measured on it comes in by itself.`;
  return `${name} is uploaded. It lies under ${stage}${stage === shell().next_stage ? "; hand it in on the assignment" : ""}.`;
}

function tellRefused(slip, file_name, reason) {
  slip.remove();
  say(unopenedWords({ file_name, reason }), { isFault: true });
}

async function send(about, file, values, { bar, close, done, element }) {
  if (!file) return;
  const submit = element.querySelector(".first");
  submit.disabled = true;
  bar.hidden = false;
  try {
    const sent = await upload(`/pages/${about.page.id}/revisions`, { ...values, image: file }, { onProgress: (part) => { bar.value = part; } });
    close();
    const slip = say(uploadedWords(file.name, values, about));
    done();
    new Reading({ tell: (_, { state, reason }) => state === "refused" && tellRefused(slip, file.name, reason) }).follow({ answer: sent });
  } catch (problem) {
    say(problem.words ?? String(problem), { isFault: true });
    bar.hidden = true;
    submit.disabled = false;
  }
}
