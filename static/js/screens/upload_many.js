import { newKey } from "../api/http.js";
import { addPage, pagesOfBoard } from "../api/pages.js";
import { upload } from "../api/upload.js";
import { askBeforeLeaving } from "../elements/ask_before_leaving.js";
import { openDialog } from "../elements/dialog.js";
import { field } from "../elements/field.js";
import { button, h } from "../elements/h.js";
import { say } from "../elements/slips.js";
import { count } from "../elements/words.js";
import { dropFiles } from "../gestures/drop_file.js";
import { UploadQueue } from "../uploads/queue.js";
import { Reading } from "../uploads/reading.js";
import { TYPES } from "../uploads/types.js";
import { drawsPage, pageOf } from "../uploads/matching.js";
import { newestLast, sharedPlaces } from "../uploads/same_place.js";
import { chosenFiles } from "./upload_many_files.js";
import { uploadRow } from "./upload_many_row.js";

/**
 * Many files for many pages: matched, looked over in a table, sent.
 * @param {{board: {id: number}, pages: any[]|null, may: any, me: any}} known @param {() => void} done @param {File[]} files
 */
export async function uploadMany({ board, pages, may, me }, done, files = []) {
  const all = pages ?? (await pagesOfBoard(board.id));
  const about = { board: board.id, may, pages: all.filter((page) => drawsPage(page, { may, me })) };
  const rows = [];
  const queue = new UploadQueue({ send: (row, onPart, signal) => sendRow(row, about, onPart, signal), tell: (row) => {
    row.show();
    sum();
    if (row.state === "sent") row.followed ??= reading.follow(row);
  } });
  const reading = new Reading({ tell: (row, { state, reason }) => {
    Object.assign(row, state === "refused" ? { reading: "unopened", words: `It could not be opened: ${reason}` } : { reading: "read" });
    row.show();
    sum();
  } });
  const list = h("ol", { class: "upload-rows", "aria-label": "Files" });
  const words = h("p", { role: "status", class: "upload-sum" });
  const send = h("button", { type: "button", class: "button first", disabled: true, onclick: () => go() }, "Upload");
  const stop = button("Stop", () => queue.stop(), { hidden: true });
  const input = h("input", { type: "file", multiple: true, accept: TYPES, onchange: () => { take([...input.files]); input.value = ""; } });
  const choose = field("Add files", input, "As many as you like, from any folder; or drop them here. The page is read from the name, or found by its looks; correct it below. A spread has both its numbers, like 6-7.");

  // Files that come while others are looked at wait for their turn.
  let looking = Promise.resolve();
  const take = (more) => { looking = looking.then(() => more.length && takeNow(more)); };
  async function takeNow(more) {
    send.disabled = true;
    words.textContent = `Looking at ${count(more.length, "file")} …`;
    for (const chosen of await chosenFiles(more, rows, about)) {
      const row = uploadRow(chosen, about, { change: changed, remove: () => { rows.splice(rows.indexOf(row), 1); changed(); } });
      rows.push(row);
      list.append(row.element);
    }
    changed();
  }
  function changed() {
    const shared = sharedPlaces(rows.filter((row) => row.fits()), (row) => row.placed());
    for (const row of rows) row.share(shared.get(row));
    sum();
  }
  async function go() {
    const chosen = newestLast(rows.filter((row) => row.fits() && row.state !== "sent"));
    for (const row of rows) row.lock(true);
    [send.hidden, stop.hidden, choose.hidden] = [true, false, true];
    const isPast = askBeforeLeaving(() => true);
    await queue.run(chosen).finally(isPast);
    for (const row of rows) row.lock(row.state === "sent");
    [send.hidden, stop.hidden, choose.hidden] = [chosen.every((row) => row.state === "sent"), true, false];
    queue.stopping = new AbortController();
    sum();
    showRest(chosen.filter((row) => row.state !== "sent"));
    if (!dialog.open) say(words.textContent, { isFault: chosen.some((row) => row.state !== "sent") });
    done();
    await Promise.all(chosen.map((row) => row.followed));
    const unopened = chosen.filter((row) => row.reading === "unopened");
    if (!dialog.open && unopened.length) say(`${count(unopened.length, "file")} could not be opened: ${unopened.map((row) => row.file.name).join(", ")}. The pages say why.`, { isFault: true });
  }
  /** What is refused is not taken by trying again alone. */
  function showRest(rest) {
    const isRefused = rest.every((row) => row.state === "refused");
    send.textContent = isRefused ? "Try the refused again" : "Try the rest again";
    send.classList.toggle("first", !isRefused);
    list.prepend(...rest.map((row) => row.element));
    if (rest.length && rest.length < rows.length) words.append(" What was not taken stands first in the list.");
  }
  function sum() {
    const going = rows.filter((row) => row.fits());
    words.textContent = sumOf(rows, going);
    send.disabled = !going.some((row) => row.state !== "sent");
    if (!going.some((row) => !row.state) || !stop.hidden) return;
    send.hidden = false;
    send.classList.add("first");
    send.textContent = `Upload ${count(going.filter((row) => row.state !== "sent").length, "file")}`;
  }
  const dialog = openDialog("Upload pages", () => {
    const body = h("div", { class: "dialog-body upload-many" }, choose, words, list, h("div", { class: "buttons" }, send, stop));
    dropFiles(body, take);
    return body;
  }, { isWide: true });
  take(files);
}

async function sendRow(row, { board, pages }, onPart, signal) {
  row.page ??= pageOf(pages, row.numbers()) ?? await newPage(board, pages, row);
  return upload(`/pages/${row.page.id}/revisions`, row.fields(), { onProgress: onPart, signal });
}

async function newPage(board, pages, row) {
  row.pageKey ??= newKey();
  const [number, second] = row.numbers();
  const page = await addPage(board, { number, is_spread: Boolean(second) }, row.pageKey);
  pages.push(page);
  return page;
}

function sumOf(rows, going) {
  if (!rows.length) return "";
  const of = (state) => rows.filter((row) => row.state === state).length;
  const ahead = going.filter((row) => row.isAhead()).length;
  if (!rows.some((row) => row.state)) {
    const fresh = going.filter((row) => row.isNew()).length;
    const out = rows.length - going.length;
    return `${[count(going.length, "file"), fresh && count(fresh, "new page"), ahead && `${ahead} kept for a later stage`, out && `${out} left out`].filter(Boolean).join(", ")}.`;
  }
  const unopened = rows.filter((row) => row.reading === "unopened").length;
  const parts = [`${of("sent")} of ${going.length} uploaded`, of("refused") && `${of("refused")} refused`,
    ahead && `${ahead} of them kept for a later stage`, of("broken") + of("stopped") && `${of("broken") + of("stopped")} not sent`, of("again") && "the line is broken, trying again",
    unopened && `${unopened} of them could not be opened`];
  const ready = of("sent") === going.length && !unopened ? " What is measured on them comes in by itself." : "";
  return `${parts.filter(Boolean).join(", ")}.${ready}`;
}
