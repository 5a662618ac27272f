import { sendHeld } from "../api/notes.js";
import { move } from "../api/pages.js";
import { button, h } from "../elements/h.js";
import { attempt, say, whisper } from "../elements/slips.js";
import { unopenedWords } from "../elements/words.js";
import { showOwn } from "./desk_head.js";
import { load } from "./desk_load.js";
import { isMovedSince, moveAsSeen, movedWords } from "./moves_facts.js";

const WORDS = { "hand-in": "Hand in", "sign-off": "Sign off", "send-back": "Send back" };
const DONE = { "hand-in": "Handed in.", "sign-off": "Signed off.", "send-back": "Sent back." };
const MEANS = {
  "hand-in": "Tells the reviewer that it is ready to be read.",
  "sign-off": "The next stage begins; after the final, it is finished.",
  "send-back": "To be drawn again; what you write becomes a must note.",
};
const MEANS_OF_PANEL = { ...MEANS, "sign-off": "Below its page's stage the panel goes on to the next one on its own; else it moves with its page again." };

const WAITS = "Its picture is being read; it is handed in as soon as that is done. Leave this open so long.";

/** One move: its button, or what stands against it. @param {any[]} held notes that go along */
export function moveRow({ move: name, refusal }, desk, held) {
  const id = `why-not-${name}`;
  return h("li", {},
    h("span", {}, h("strong", {}, WORDS[name]), h("span", { class: "quiet small block", id }, refusal ? (desk.waits && refusal.code === "being-read" ? WAITS : refusal.reason) : (desk.kind === "pages" ? MEANS : MEANS_OF_PANEL)[name])),
    refusal?.code === "assignment" && desk.state.known.assignment
      ? h("a", { class: "button first", href: `/assignments/${desk.state.known.assignment}`, "aria-describedby": id }, "To the assignment")
      : refusal?.code === "another-picture"
        ? button("Look at it", () => lookAtIt(desk), { "aria-describedby": id, "data-key": `move-${name}` })
        : name === "hand-in" && refusal?.code === "being-read"
          ? waitRow(desk, id)
          : h("button", { type: "button", class: refusal ? "button" : "button first", disabled: Boolean(refusal), "aria-describedby": id, "data-key": `move-${name}`, onclick: () => make(name, desk, held) }, WORDS[name]));
}

/** A picture that nobody has read yet is not handed in; it is as soon as it was read, if this is pressed and the dialog stays open. */
function waitRow(desk, id) {
  const press = () => {
    desk.waits = !desk.waits;
    desk.showMoves();
  };
  return button(desk.waits ? "Do not wait" : "Hand in once it is read", press, { class: desk.waits ? "button" : "button first", "aria-describedby": id, "data-key": "move-hand-in" });
}

/** What was asked for while the picture was being read. @param {any[]} rows the moves as they stand now @param {any[]} held */
export function goOnAsAsked(desk, rows, held) {
  const refusal = rows.find((one) => one.move === "hand-in")?.refusal;
  if (!desk.waits || refusal?.code === "being-read") return;
  desk.waits = false;
  const { refused_upload: unopened } = desk.state.known.page;
  if (refusal) say(`Not handed in. ${unopened?.id === desk.seen?.id ? unopenedWords(unopened) : refusal.reason}`, { isFault: true });
  else make("hand-in", desk, held);
}

/** The page or panel as the Desk knows it now. What was changed that a move is about is told, once. */
export function takeNewest(desk) {
  const { page, panels } = desk.state.known;
  const now = desk.kind === "pages" ? page : panels.find((one) => one.id === desk.row.id);
  if (!now || now.version === desk.row.version) return;
  if (isMovedSince(desk.kind, desk.row, now)) {
    desk.moved = movedWords(desk.kind, now);
    if (!desk.isMaking) whisper(desk.moved);
  }
  desk.row = now;
}

/** The dialog stays until the move is made, with what was written in it. */
async function make(name, desk, held) {
  if (desk.isMaking) return;
  const { kind, parts, seen, state } = desk;
  const why = parts.why.value();
  const body = { move: name, ...(why ? { why } : {}), ...(name === "send-back" ? { to_stage: parts.to.select.value } : {}), ...(seen ? { revision: seen.id } : {}) };
  Object.assign(desk, { isMaking: true, moved: "" });
  const readAnew = async () => {
    await load(state);
    takeNewest(desk);
  };
  const sending = () => moveAsSeen({ rowNow: () => desk.row, isAsSeen: () => !desk.moved, send: (row) => move(kind, row, body), readAnew });
  const made = await attempt(async () => (await sending()) ?? false, { onRefusal: (problem) => problem.isUnanswered || load(state) });
  desk.isMaking = false;
  if (made === false) whisper(desk.moved);
  if (!made) return;
  desk.keepsWords = false;
  say(DONE[name]);
  // After the move: sent before it, they would have gone out although it was refused.
  if (held.length) await attempt(() => sendHeld(state.known.board.id, held.map((note) => note.id)));
  desk.close();
  load(state);
}

const lookAtIt = (desk) => {
  comeBackLater(desk);
  showOwn(desk.state);
};

/** Closed with what was written in it kept. */
export function comeBackLater(desk) {
  desk.keepsWords = true;
  desk.close();
}
