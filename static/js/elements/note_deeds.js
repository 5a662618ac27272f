import { reply } from "../api/notes.js";
import { dropDraft, keepDraft, readDraft } from "./drafts.js";
import { button, h, word } from "./h.js";
import { attempt } from "./slips.js";

/**
 * What may be done with a note at hand, in words.
 * @param {any} note
 * @param {{act: (deed: string, stepsOn?: boolean) => void, edit: (() => void)|null, panel: any, may: any, draws: boolean, asks: boolean, seeBoth: string|null}} desk
 */
export function noteDeeds(note, desk) {
  const can = note.may ?? {};
  const isOpen = note.state === "open" || note.state === "answered";
  const deed = (words, name, props) => word(words, () => desk.act(name), { "data-key": `${name}-${note.id}`, ...props });
  const deeds = [
    note.state === "held" && deed("Send it now", "send"),
    can.answer && note.state === "open" && deed("Answered", "answered"),
    can.settle && (isOpen || note.state === "stet") && deed("Settle", "settled"),
    can.let_stand && isOpen && deed("Stet: let it stand", "stet"),
    (can.settle || can.answer || can.let_stand) && !["open", "held"].includes(note.state) && deed("Open again", "open"),
    can.edit && desk.edit && word("Change", desk.edit, { "data-key": `edit-${note.id}` }),
    can.edit && note.state === "held" && deed("Drop", "drop"),
    leaveAloneDeed(note, desk, deed),
  ].filter(Boolean);
  return [desk.asks && question(note, desk), deeds.length > 0 && h("div", { class: "note-deeds" }, deeds)].filter(Boolean);
}

/** Whoever may settle a note is asked about it once its spot was drawn anew. */
function question(note, { act, seeBoth }) {
  const became = note.astray ? "Its panel is not found on this picture." : "Its panel was drawn anew.";
  return h("div", { class: "note-question" }, h("p", {}, `${became} Is it answered in this revision?`),
    h("div", { class: "buttons" },
      button("Yes, settle it", () => act("settled", true), { "data-key": `yes-${note.id}`, "aria-keyshortcuts": "y" }),
      button("Not yet", () => act("not-yet", true), { "data-key": `not-yet-${note.id}`, "aria-keyshortcuts": "o" }),
      seeBoth && h("a", { href: seeBoth, "data-key": `both-${note.id}` }, "See before and now")));
}

function leaveAloneDeed(note, { panel, may, draws }, deed) {
  const isLeftAlone = panel?.left_alone_by?.includes(note.check);
  if (note.source !== "measured" || !panel || isLeftAlone || !(may.review || draws)) return null;
  return deed(`Leave panel ${panel.order} alone`, "alone", { title: `${note.check_label} will not measure this panel any more: the distortion is meant.` });
}

/** Drafts of the replies that are being sent. */
const onTheirWay = new Set();

/** A field that keeps what is typed, and sends it as a reply. */
export function replyField(note, me, changed) {
  const draft = `reply ${note.id}, member ${me.id}`;
  const area = h("textarea", {
    class: "written", rows: "2", "aria-label": "Reply", placeholder: "Reply", "data-key": `reply-${note.id}`, value: readDraft(draft) ?? "",
    oninput: () => {
      keepDraft(draft, area.value);
      send.hidden = !area.value.trim();
    },
  });
  const submit = async () => {
    const body = area.value.trim();
    if (!body || onTheirWay.has(draft)) return;
    onTheirWay.add(draft);
    const isSent = await attempt(() => reply(note, body), { done: "Reply sent." });
    onTheirWay.delete(draft);
    if (!isSent) return;
    // What was typed on meanwhile stays; the note may be drawn anew by then, as its reply is heard of before it is answered.
    const at = area.isConnected ? area : (document.querySelector(`[data-key="reply-${note.id}"]`) ?? area);
    const words = at.value.trim();
    at.value = words.startsWith(body) ? words.slice(body.length).trim() : words;
    at.dispatchEvent(new Event("input"));
    if (!at.value) dropDraft(draft);
    at.focus();
    changed();
  };
  const send = button("Send reply", submit, { hidden: !readDraft(draft), "data-key": `send-reply-${note.id}` });
  area.addEventListener("keydown", (event) => event.key === "Enter" && (event.ctrlKey || event.metaKey) && submit());
  return h("div", { class: "reply-field" }, area, send);
}
