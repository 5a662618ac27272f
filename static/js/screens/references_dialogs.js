import { changeReference } from "../api/boards.js";
import { Problem } from "../api/http.js";
import { upload } from "../api/upload.js";
import { openDialog } from "../elements/dialog.js";
import { choice, field, form } from "../elements/field.js";
import { h } from "../elements/h.js";
import { attempt, say } from "../elements/slips.js";
import { count } from "../elements/words.js";

export const KINDS = [["still", "still of a set"], ["background", "old background"], ["pose", "pose"], ["prop", "prop"]];
const WORD_FOR = new Map([...KINDS, ["model-sheet", "model sheet"]]);
export const kindWords = (kind) => WORD_FOR.get(kind) ?? kind;

/** @param {File[]} [given] pictures that were dropped on the screen */
export function addReferences(board, reload, given) {
  openDialog("Add pictures", (close) => {
    const picked = h("input", { type: "file", accept: "image/*", multiple: true, required: !given });
    const title = h("input", { name: "title", maxlength: "200" });
    const files = () => (picked.files.length ? [...picked.files] : given ?? []);
    const arrived = new Set();
    const told = h("div", { role: "status" });
    const element = form({}, async ({ kind }) => {
      const refused = await sendAll(board, files(), { title: title.value, kind }, arrived);
      reload();
      if (!refused.length) return close();
      told.replaceChildren(...refused.map((words) => h("p", { class: "fault" }, words)));
    },
      field("Pictures", picked, given && `Dropped here: ${given.map(({ name }) => name).join(", ")}`),
      field("Title", title, "Of one picture. Several are called as their files are; each can be called otherwise later."),
      field("Kind", choice(KINDS, "still", { name: "kind" }), "A still of a set is solved: where its lines meet, and its eye level."),
      told,
      h("div", { class: "buttons" }, h("button", { class: "button first" }, "Add")));
    return element;
  });
}

// The same file, picked once more, is another object.
const oneFile = ({ name, size, lastModified }) => [name, size, lastModified].join("/");

/** One after the other; gives back what is said of those that were refused. What has `arrived` is not sent again with the next try. */
async function sendAll(board, files, { title, kind }, arrived) {
  const refused = [];
  for (const image of files.filter((file) => !arrived.has(oneFile(file)))) {
    const called = (files.length === 1 && title.trim()) || image.name.replace(/\.[^.]*$/u, "").slice(0, 200) || "untitled";
    try {
      await upload(`/boards/${board}/references`, { image, title: called, kind });
      arrived.add(oneFile(image));
    } catch (error) {
      if (!(error instanceof Problem)) throw error;
      refused.push(`${image.name}: ${error.words}`);
    }
  }
  if (!refused.length) say(files.length === 1 ? "It is uploaded." : `${count(files.length, "picture")} are uploaded.`);
  return refused;
}

export function changeDialog(one, reload) {
  // A model sheet is made one in the line-up.
  const kinds = one.kind === "model-sheet" ? [["model-sheet", kindWords("model-sheet")], ...KINDS] : KINDS;
  openDialog(`Change ${one.title}`, (close) => form({}, async (fields) => {
    if (!(await attempt(() => changeReference(one.id, fields)))) return;
    close();
    reload();
  },
    field("Title", h("input", { name: "title", required: true, maxlength: "200", value: one.title })),
    field("Kind", choice(kinds, one.kind, { name: "kind" })),
    h("div", { class: "buttons" }, h("button", { class: "button first" }, "Keep it"))));
}
