import { sendHeld } from "../api/notes.js";
import { h, svg, swap } from "../elements/h.js";
import { noteDeeds, replyField } from "../elements/note_deeds.js";
import { noteEditor } from "../elements/note_editor.js";
import { noteBody, noteHead, replyList } from "../elements/note_face.js";
import { attempt } from "../elements/slips.js";
import { middleOf } from "../geometry/page_space.js";
import { chooseMargins, standInMargin } from "../geometry/margin_layout.js";
import { changeDraft, editNote, endDraft, sendDraft } from "./desk_draft.js";
import { isClosed, notesListed, regionOn } from "./desk_facts.js";
import { load } from "./desk_load.js";
import { toScreen } from "./desk_picture.js";

const GAP_PX = 6;
const AT_HAND_WEIGHS = 60;
const NARROW = matchMedia("(max-width: 56rem)");

/** Notes in the page's own margins, each at the height of its spot with a leader to it; on a narrow screen, a list below the page. */
export function showNotes(state, parts) {
  const draw = (known) => {
    const rows = notesListed(known).map((note) => noteItem(note, state));
    const draft = known.draft && draftItem(known.draft, state);
    swap(parts.list, draft, ...rows, !rows.length && !draft && known.isLoaded && teach(known));
    parts.list.classList.toggle("is-empty", !rows.length && !draft);
    place(known, parts);
  };
  state.on(["notes", "note", "draft", "showsClosed", "panels", "page", "revision", "isLoaded"], draw);
  state.on(["view", "box", "overlays"], (known) => place(known, parts));
  NARROW.addEventListener("change", () => place(state.known, parts));
  new ResizeObserver(() => place(state.known, parts)).observe(parts.sheet);
  parts.list.addEventListener("input", () => place(state.known, parts));
}

function noteItem(note, state) {
  const { known } = state;
  const isAtHand = note.id === known.note;
  const kind = note.source === "measured" ? "is-measured" : "is-person";
  const classes = ["note", kind, isAtHand && "is-at-hand", isClosed(note) && "is-closed", note.state === "held" && "is-held"];
  const item = h("li", { class: classes.filter(Boolean).join(" "), "data-note": note.id, "data-tone": note.tone, "data-state": note.state },
    noteHead(note, isAtHand, () => state.set({ note: isAtHand ? null : note.id })));
  if (isAtHand) item.append(h("div", { class: "note-open" }, noteBody(note), replyList(note), ...deedsOf(note, state)));
  return item;
}

function deedsOf(note, state) {
  const { known } = state;
  const changed = () => load(state, ["notes", "page", "panels", "revision"]);
  const desk = {
    changed, may: known.may, draws: known.draws, panel: known.panels.find((panel) => panel.id === note.panel),
    edit: (one) => editNote(state, one),
    send: (one) => attempt(() => sendHeld(known.board.id, [one.id]), { done: "Sent." }).then(changed),
  };
  return [noteDeeds(note, desk), note.state !== "held" && known.may.write && replyField(note, changed)].filter(Boolean);
}

function draftItem(draft, state) {
  return h("li", { class: "note is-person is-draft is-at-hand", "data-note": "draft" }, noteEditor(draft, {
    onChange: (fields) => changeDraft(state, fields), onSend: (held) => sendDraft(state, held), onDrop: () => endDraft(state),
    mayHold: !draft.note,
  }));
}

function teach({ revision, may }) {
  return h("li", { class: "note teach-note", "data-note": "teach" }, h("p", { class: "quiet" },
    revision
      ? may.write ? "No open note. Drag over the drawing to pin one, or choose a panel and press C." : "No open note on this page."
      : "Nothing is drawn here yet. Upload the first picture below the page; what is measured on it will stand here."));
}

/** Puts every note where it stands, and draws the leaders. */
function place(known, { sheet, view, list, leaders }) {
  const items = [...list.children];
  if (NARROW.matches || !known.view) {
    leaders.replaceChildren();
    sheet.style.minHeight = "";
    for (const item of items) {
      item.style.top = "";
      item.classList.remove("left", "right");
    }
    return;
  }
  const frame = sheet.getBoundingClientRect();
  const window_ = view.getBoundingClientRect();
  const standing = items.map((item) => standingOf(item, known, window_, frame));
  const sides = chooseMargins(standing, window_.height, GAP_PX);
  let bottom = 0;
  for (const side of ["left", "right"]) {
    const here = standing.filter(({ id }) => sides.get(id) === side);
    const room = { top: 4, bottom: window_.height - 4, gap: GAP_PX };
    const stands = standInMargin(here.map((one) => ({ ...one, anchor: one.anchor - 14 })), room);
    bottom = Math.max(bottom, stands.bottom);
    for (const { id, item } of here) {
      item.style.top = `${stands.tops.get(id)}px`;
      item.classList.toggle("left", side === "left");
      item.classList.toggle("right", side === "right");
    }
  }
  sheet.style.minHeight = `${Math.ceil(bottom) + 8}px`;
  leaders.replaceChildren(...(known.overlays.notes ? standing.map((one) => leader(one, sides.get(one.id), frame, window_)) : []).filter(Boolean));
}

function standingOf(item, known, window_, frame) {
  const id = item.dataset.note;
  const note = id === "draft" ? known.draft : known.notes.find((one) => String(one.id) === id);
  const region = id === "draft" ? known.draft.region : note && regionOn(note, known);
  const spot = region ? toScreen(known)(middleOf(region)) : null;
  const clamp = (v, most) => Math.min(most - 8, Math.max(8, v));
  const at = spot && [window_.left - frame.left + clamp(spot[0], window_.width), window_.top - frame.top + clamp(spot[1], window_.height)];
  const isAtHand = item.classList.contains("is-at-hand");
  return {
    id, item, at, isAtHand, height: item.offsetHeight, weight: isAtHand ? AT_HAND_WEIGHS : 1,
    anchor: at ? at[1] : 0, x: spot ? clamp(spot[0], window_.width) / window_.width : 0.49,
  };
}

function leader({ item, at, isAtHand }, side, frame) {
  if (!at) return null;
  const box = item.getBoundingClientRect();
  const x = (side === "left" ? box.right : box.left) - frame.left;
  const y = box.top - frame.top + Math.min(18, box.height / 2);
  const bend = x + (side === "left" ? 14 : -14);
  const kind = item.classList.contains("is-measured") ? "is-measured" : "is-person";
  return svg("path", { class: `leader ${kind}${isAtHand ? " is-at-hand" : ""}`, d: `M${x} ${y}H${bend}L${at[0]} ${at[1]}` });
}
