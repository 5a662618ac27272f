import { bringTo, dropNote, openAgain, reply } from "../api/notes.js";
import { leaveAlone } from "../api/pages.js";
import { dropDraft, keepDraft, readDraft } from "./drafts.js";
import { button, h, word } from "./h.js";
import { attempt } from "./slips.js";

/**
 * What may be done with a note at hand, in words.
 * @param {any} note
 * @param {{changed: (note?: any) => void, edit: (note: any) => void, send: (note: any) => void, panel: any, may: any, draws: boolean}} desk
 */
export function noteDeeds(note, desk) {
  const can = note.may ?? {};
  const isOpen = note.state === "open" || note.state === "answered";
  const to = (state, done) => () => attempt(() => bringTo(note, state), { done, onRefusal: () => desk.changed() }).then(desk.changed);
  const key = (name) => ({ "data-key": `${name}-${note.id}` });
  const deeds = [
    note.state === "held" && word("Send it now", () => desk.send(note), key("send")),
    can.answer && note.state === "open" && word("Answered", to("answered", "Marked as answered."), key("answer")),
    can.settle && (isOpen || note.state === "stet") && word("Settle", to("settled", "Settled."), key("settle")),
    can.let_stand && isOpen && word("Stet: let it stand", to("stet", "It stands as it is."), key("stet")),
    (can.settle || can.answer || can.let_stand) && !["open", "held"].includes(note.state) &&
      word("Open again", () => attempt(() => openAgain(note), { done: "Open again." }).then(desk.changed), key("open")),
    can.edit && word("Change", () => desk.edit(note), key("edit")),
    can.edit && note.state === "held" && word("Drop", () => attempt(() => dropNote(note), { done: "Dropped." }).then(() => desk.changed()), key("drop")),
    leaveAloneDeed(note, desk),
  ].filter(Boolean);
  return deeds.length > 0 && h("div", { class: "note-deeds" }, deeds);
}

function leaveAloneDeed(note, { panel, may, draws, changed }) {
  const isLeftAlone = panel?.left_alone_by?.includes(note.check);
  if (note.source !== "measured" || !panel || isLeftAlone || !(may.review || draws)) return null;
  return word(`Leave panel ${panel.order} alone`, () =>
    attempt(() => leaveAlone(panel, note.check), { done: `${note.check_label} leaves panel ${panel.order} alone from now on.` }).then(() => changed()),
    { "data-key": `alone-${note.id}`, title: `${note.check_label} will not measure this panel any more: the distortion is meant.` });
}

/** A field that keeps what is typed, and sends it as a reply. */
export function replyField(note, changed) {
  const draft = `reply ${note.id}`;
  const area = h("textarea", {
    class: "written", rows: "2", "aria-label": "Reply", placeholder: "Reply", "data-key": `reply-${note.id}`, value: readDraft(draft) ?? "",
    oninput: () => {
      keepDraft(draft, area.value);
      send.hidden = !area.value.trim();
    },
  });
  const submit = async () => {
    const body = area.value.trim();
    if (!body || !(await attempt(() => reply(note, body), { done: "Reply sent." }))) return;
    dropDraft(draft);
    area.value = "";
    changed();
  };
  const send = button("Send reply", submit, { hidden: !readDraft(draft), "data-key": `send-reply-${note.id}` });
  area.addEventListener("keydown", (event) => event.key === "Enter" && (event.ctrlKey || event.metaKey) && submit());
  return h("div", { class: "reply-field" }, area, send);
}
