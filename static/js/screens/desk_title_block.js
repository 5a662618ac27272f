import { choice } from "../elements/field.js";
import { button, h, swap, word } from "../elements/h.js";
import { stageWord } from "../elements/stage_mark.js";
import { WAITS, count, nameOf, unopenedWords, when } from "../elements/words.js";
import { atWork, panelOfTry, panelsKnown, silentOf } from "./desk_facts.js";
import { load } from "./desk_load.js";
import { alternatesDialog, uploadDialog } from "./dialogs_on_demand.js";
import { markFigures, mayCorrect } from "./tools_on_demand.js";

/** The title block, as on a drawing's own sheet: stage, revision, what is measured, and the moves. */
export function showTitleBlock(state, block) {
  const reload = () => load(state);
  state.on(["page", "revision", "revisions", "panels"], (known) => {
    if (!known.page) return;
    swap(block, stageCell(state, reload), revisionCell(state), checksCell(state));
  });
  // What takes dropped files comes when the first are carried over the screen; they are over it for longer than that takes.
  document.body.addEventListener("dragenter", async () => {
    const { dropFiles } = await import("../gestures/drop_file.js");
    dropFiles(document.body, (files) => state.known.draws && state.known.page && uploadDialog(state.known.page, reload, files, { panels: panelsKnown(state.known) }));
  }, { once: true });
}

const cell = (title, ...children) => h("div", { class: "cell" }, h("h2", { class: "cell-title" }, title), ...children);

function stageCell({ known }, reload) {
  const { page, draws } = known;
  if (page.laid_aside_at) return laidAsideCell(page, known, reload);
  return cell("Stage", h("p", {}, stageWord(page.stage)), h("p", { class: "quiet small" }, [WAITS[page.waits_for], ...panelsAlone(page), ...page.kept_ahead.map((stage) => `a ${stage} is kept for later`)].join(", ")),
    draws && h("div", { class: "buttons" }, button("Upload a picture", () => uploadDialog(page, reload, [], { panels: panelsKnown(known) }), { "data-key": "upload" })));
}

function panelsAlone({ panels_sent_back: sentBack, panels_handed_in: handedIn }) {
  return [[sentBack - handedIn, "sent back"], [handedIn, "handed in"]].filter(([n]) => n).map(([n, state]) => `${n} of its panels ${state}`);
}

function laidAsideCell(page, { may }, reload) {
  const back = async () => (await import("./laid_aside.js")).putBack(page, reload);
  return cell("Laid aside", h("p", {}, "This page is not in the comic."), h("p", { class: "quiet small" }, `${when(page.laid_aside_at)}, ${page.stage}`),
    may.run_board && h("div", { class: "buttons" }, button("Bring it back", back, { "data-key": "take-in" })));
}

function revisionCell(state) {
  const { page, revision, revisions, may, draws } = state.known;
  if (!revisions.length) return cell("Revision", h("p", { class: "quiet" }, "none yet"));
  const letter = (one) => (one.panel ? `, ${panelOfTry(one, state.known)}, try ${one.alternate}` : one.alternate === page.chosen_alternate ? "" : `, alternate ${one.alternate}`);
  const label = (one) => `${one.number}, ${one.stage}${letter(one)}${one.withdrawn_at ? ", withdrawn" : ""}${one.state === "refused" ? ", refused" : ""}`;
  const show = (id) => {
    state.set({ shownRevision: id });
    load(state, ["revision"]);
  };
  const pick = choice([...revisions].sort((a, b) => b.number - a.number).map((one) => [one.id, label(one)]), revision?.id, {
    "aria-label": "Revision shown", "data-key": "revision",
    onchange: () => show(Number(pick.value)),
  });
  const isOlder = revision && revision.id !== page.current_revision?.id;
  const unopened = page.refused_upload;
  return cell("Revision", pick,
    unopened && unopened.id !== revision?.id && h("p", { class: "fault small" }, unopenedWords(unopened), " ",
      word("Look at it", () => show(unopened.id), { "data-key": "show-unopened" })),
    revision && h("p", { class: "quiet small" }, `${nameOf(revision.uploaded_by)}, ${when(revision.uploaded_at)}`),
    isOlder && h("p", { class: "small" }, "Not the page's own picture now. ", word("Show that", async () => (await import("./desk_head.js")).showOwn(state), { "data-key": "show-current" })),
    revision?.state === "refused" && h("p", { class: "fault small" }, revision.reason),
    page.alternates.length > 1 && word("Tries side by side", () => alternatesDialog("pages", page, state), { "data-key": "alternates" }),
    revision && h("p", { class: "small buttons" },
      !revision.panel && compareLink(page, revision, revisions.filter((one) => !one.panel)),
      h("a", { href: revision.file, download: "" }, "The file itself"),
      (draws || may.review) && withdrawal(revision, state)));
}

/** The one shown with the one before it; the first of all with the page's own picture. */
function compareLink(page, revision, revisions) {
  if (revisions.length < 2) return null;
  const isFirst = revisions.every((one) => one.number >= revision.number);
  return h("a", { href: `/pages/${page.id}/compare?${isFirst ? "before" : "after"}=${revision.id}`, "data-key": "compare" }, "Compare");
}

function withdrawal(revision, state) {
  const change = async () => (await import("./withdraw.js"))[revision.withdrawn_at ? "show" : "hide"](revision, state);
  return revision.withdrawn_at ? word("Bring it back", change, { "data-key": "bring-back" }) : word("Withdraw", change, { "data-key": "withdraw" });
}

function checksCell(state) {
  const { known } = state;
  const { revision } = known;
  const lost = revision?.figures_lost ?? [];
  return cell("Measured", revision?.state === "received" ? h("p", { class: "quiet" }, "The picture is being read …") : null,
    h("ul", { class: "checks small", "aria-busy": String(atWork(known).length > 0) }, (revision?.checks ?? []).map((check) => checkRow(check, silentOf(check, revision)))),
    lost.length > 0 && mayCorrect(known) && word(`Mark ${count(lost.length, "figure")} again`, () => markFigures(state, lost[0]), { "data-key": "lost-here" }));
}

const SAYS = { queued: "waits", running: "at work …", done: "measured", not_measured: "not measured", failed: "failed" };

/** Where people asked for it, by a deed of their own, why a panel was not measured is told at once. */
const checkRow = ({ check, label, state, reason }, silent) => h("li", { "data-state": state }, h("span", {}, label),
  h("span", { class: "quiet", title: reason || "" }, SAYS[state] ?? state, silent.length > 0 && `, not in panel ${silent.map(([order]) => order).join(", ")}`),
  ["same-as", "still"].includes(check) && silent.map(([order, why]) => h("p", { class: "quiet" }, `Panel ${order}: ${why}`)));
