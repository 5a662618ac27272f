import { svg } from "../elements/h.js";
import { drawMark } from "../elements/note_marks.js";
import { isClosed } from "../elements/words.js";
import { outline } from "../geometry/crop_marks.js";
import { draftHere, evidenceOn, notesListed, panelsShown, regionOn } from "./desk_facts.js";
import { toScreen } from "./desk_picture.js";

/** Everything that is drawn over the picture: panels, the marks that hold regions, the evidence of the note at hand, a draft's region. */
export function showDrawn(state, surface) {
  state.on(["view", "box", "revision", "panels", "notes", "note", "panel", "draft", "overlays", "showsClosed", "page"], (known) => {
    if (!known.view || !known.revision) return surface.replaceChildren();
    const at = toScreen(known);
    const box = [0, 0, known.box.width, known.box.height];
    surface.replaceChildren(
      ...(known.overlays.panels ? panelsShown(known).flatMap((panel) => drawPanel(panel, known, at)) : []),
      ...(known.overlays.notes ? notesListed(known).map((note) => drawHold(note, known, at)).filter(Boolean) : []),
      ...drawNoteAtHand(state, at, box),
      ...(draftHere(known)?.region ? [drawMark(known.draft.region, at, "hold is-draft")] : []),
    );
  });
}

function drawPanel(panel, known, at) {
  const isAtHand = panel.id === known.panel;
  const points = panel.polygon.map(at);
  const parts = [svg("path", { class: isAtHand ? "panel is-at-hand" : "panel", d: outline(points) })];
  if (panel.row?.sent_back_to) parts.push(svg("path", { class: "panel is-sent-back", d: outline(points) }));
  return parts;
}

function drawHold(note, known, at) {
  const region = regionOn(note, known);
  if (!region || note.id === known.note) return null;
  const kind = note.source === "measured" ? "is-measured" : "is-person";
  return drawMark(region, at, `hold ${kind}${isClosed(note) ? " is-closed" : ""}`);
}

function drawNoteAtHand(state, at, box) {
  const { known } = state;
  const note = known.notes.find((one) => one.id === known.note);
  if (!note) return [];
  const region = regionOn(note, known);
  const kind = note.source === "measured" ? "is-measured" : "is-person";
  return [
    ...(region ? [drawMark(region, at, `hold ${kind} is-at-hand`)] : []),
    ...evidenceMarks(evidenceOn(note, known)?.marks, state, at, box),
  ];
}

const evidence = { module: null };

/** What draws evidence comes with the first note that has any. */
function evidenceMarks(marks, state, at, box) {
  if (!marks?.length) return [];
  if (evidence.module) return evidence.module.drawEvidence(marks, at, box).filter(Boolean);
  import("../elements/evidence.js").then((module) => {
    evidence.module = module;
    state.set({ note: state.known.note });
  });
  return [];
}
