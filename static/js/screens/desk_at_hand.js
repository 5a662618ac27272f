import { button, h, swap } from "../elements/h.js";
import { moreButton } from "../elements/more.js";
import { count, isClosed } from "../elements/words.js";
import { isTall } from "../geometry/page_space.js";
import { beginDraft } from "./desk_draft.js";
import { heldNotes, isAskedFirst, panelsShown } from "./desk_facts.js";
import { fullNotes } from "./desk_notes.js";
import { wholePage, zoomBy } from "./desk_view.js";
import { movesDialog, noteListDialog, sendAll } from "./dialogs_on_demand.js";
import { MORE_OVERLAYS, asWideAsView, correctPanels, drawShapes, layOver, markFigures, mayCorrect, standPosts } from "./tools_on_demand.js";

/** The ledge under the picture: what one can do right now, in words. */
export function showAtHand(state, ledge) {
  state.on(["page", "panel", "overlays", "showsClosed", "pins", "notes", "revision", "panels", "draft", "notYet", "showsMore"], (known) => {
    swap(ledge, h("div", { class: "ledge" }, ...writing(state), h("span", { class: "ledge-space" }), ...looking(state), moreButton(ledge, "More tools")),
      known.showsMore && h("div", { class: "ledge", id: "more-overlays", role: "group", "aria-label": "Laid over the page" }, [["panels", "Panels"], ["notes", "Marks"], ...MORE_OVERLAYS].map(([name, words]) =>
        button(words, () => layOver(state, name), { class: "button plain", "aria-pressed": String(known.overlays[name]), "data-key": `over-${name}` }))));
    ledge.hidden = !known.page && !known.isLoaded && !known.revision;
  });
}

function writing(state) {
  const { known } = state;
  const list = known.notes.length > 0 && button("List", () => noteListDialog(state), { class: "button spare", "data-key": "note-list", title: "All notes of this page, by panel, state or tone" });
  if (!known.may.write) return [list].filter(Boolean);
  const panel = panelsShown(known).find((one) => one.id === known.panel);
  const held = heldNotes(known);
  const asked = known.notes.filter((note) => isAskedFirst(note, known));
  return [
    asked.length > 0 && button(`Answered here? ${count(asked.length, "note")}`, () => takeUp(state, asked[0]), { class: "button always", "data-key": "asked-first", title: "Notes whose spot was drawn anew" }),
    known.revision && panel && button(`Note on panel ${panel.order}`, () => noteOnPanel(state), { class: "button always", "data-key": "note-on-panel" }),
    button("Note on the page", () => beginDraft(state, { region: null, scope: "page" }, { takesFocus: true }), { class: known.revision && panel ? "button" : "button always", "data-key": "note-on-page" }),
    known.revision && button("Pin by taps", () => state.set({ pins: !known.pins }),
      { "data-key": "pins", class: "button plain taps seldom", "aria-pressed": String(known.pins), title: "On: one tap pins a spot, a second one the opposite corner of a region, and a finger draws. Off: a finger moves the page." }),
    known.revision && button("Draw …", () => drawShapes(state), { class: "button always", "data-key": "draw-shapes", title: "A free outline, a spot, an arrow, or strokes over the page" }),
    known.page && (known.draws || known.may.review) && button(known.may.review ? "Sign off or send back …" : "Hand in …",
      () => movesDialog("pages", known.page, state), { "data-key": "moves" }),
    list,
    held.length > 0 && button(`Send ${count(held.length, "held note")}`, () => sendAll(state), { class: "button first always", "data-key": "send-held" }),
  ].filter(Boolean);
}

async function takeUp(state, note) {
  // Before the note: drawn without it, the note would have no answer yet that could be given the focus.
  await fullNotes();
  state.set({ note: note.id });
  await null; // it is told in the turn before this one
  document.querySelector(`[data-key="yes-${note.id}"]`)?.focus();
}

function looking(state) {
  const { known } = state;
  const closed = known.notes.filter(isClosed).length;
  const proposed = known.revision?.figures_proposed;
  // On a wide screen all is at hand but what is seldom wanted, so that the ledge is one row.
  const seldom = "button plain seldom";
  return [
    mayCorrect(known) && button("Correct panels", () => correctPanels(state), { class: seldom, "data-key": "correct-panels" }),
    mayCorrect(known) && button(`Mark figures${proposed ? ` (${proposed} proposed)` : ""}`, () => markFigures(state), { class: proposed ? "button plain" : seldom, "data-key": "mark-figures" }),
    mayCorrect(known) && button("Figure posts", () => standPosts(state), { class: seldom, "data-key": "stand-posts" }),
    known.revision && button("Lay over …", () => state.set({ showsMore: !known.showsMore }), { class: "button plain taps", "aria-expanded": String(known.showsMore), "aria-controls": "more-overlays", "data-key": "lay-over" }),
    closed > 0 && button(`${closed} closed`, () => state.set({ showsClosed: !known.showsClosed }), { class: "button plain spare", "aria-pressed": String(known.showsClosed), "data-key": "show-closed" }),
    button("−", () => zoomBy(state, 1 / 1.4), { class: "button plain", "aria-label": "Smaller", "data-key": "smaller" }),
    button("+", () => zoomBy(state, 1.4), { class: "button plain", "aria-label": "Larger", "data-key": "larger" }),
    isTall(known.revision) && button("As wide as the view", () => asWideAsView(state), { class: "button plain always", "data-key": "wide" }),
    button("Whole page", () => wholePage(state), { class: "button plain", "data-key": "whole" }),
  ].filter(Boolean);
}

/** Begins a note on the panel at hand, its region the panel itself; arrow keys can make it smaller. */
export function noteOnPanel(state) {
  const panel = panelsShown(state.known).find((one) => one.id === state.known.panel);
  beginDraft(state, panel ? { region: { polygon: panel.polygon } } : { region: null, scope: "page" }, { takesFocus: true, goesOn: true });
}
