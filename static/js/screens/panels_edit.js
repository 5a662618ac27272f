import { readPage, readRevision, correctPanels as send } from "../api/pages.js";
import { askBeforeLeaving } from "../elements/ask_before_leaving.js";
import { askFirst } from "../elements/dialog.js";
import { h } from "../elements/h.js";
import { backTo } from "../elements/more.js";
import { attempt, say } from "../elements/slips.js";
import { load } from "./desk_load.js";
import { wholePage } from "./desk_view.js";
import { drawPanelsEdit } from "./panels_edit_drawn.js";
import { listenWhileEditing } from "./panels_edit_keys.js";
import { areSame, metWith } from "./panels_edit_meet.js";
import { begun, bodyOf, hasChanged, panelsOf } from "./panels_edit_model.js";
import { showEditStrip } from "./panels_edit_strip.js";
import { showEditTools } from "./panels_edit_tools.js";

const MOST_TRIES = 5;
let parts = null;
const at = { isSending: false, /** @type {Element|null} */ told: null };

/** The panels of the picture shown are corrected until they are kept, or left as they were. */
export function correctPanels(state) {
  const { known } = state;
  if (known.edit || !known.revision) return;
  const deeds = { keep: () => keep(state), drop: () => drop(state), help: () => {} };
  state.set({ edit: begun(known.revision, known.page.version), note: null, draft: null });
  document.getElementById("desk").classList.add("is-correcting");
  parts ??= mount(state, deeds);
  parts.open();
  wholePage(state);
  document.getElementById("view").focus();
}

/** The parts stay once they are made; keys and pointers are taken off and put on. */
function mount(state, deeds) {
  const strip = h("nav", { class: "strip edit-strip", "aria-label": "Panels in reading order, to be put in order" });
  const ledge = h("div", { class: "at-hand edit-ledge" });
  document.getElementById("strip").after(strip);
  document.getElementById("at-hand").after(ledge);
  const view = document.getElementById("view");
  showEditStrip(state, strip);
  showEditTools(state, ledge, { ...deeds, help: () => deeds.help() });
  drawPanelsEdit(state, view);
  let stop = () => {};
  // It was withdrawn, or somebody went to another one: what was drawn on it does not fit that.
  state.on(["revision"], ({ edit, revision }) => {
    if (!edit || edit.revision === revision?.id) return;
    end(state);
    say("Another picture lies here now; the panels of the one before were left as they were.");
  });
  return {
    open: () => {
      const keys = listenWhileEditing(state, view, deeds);
      deeds.help = keys.help;
      const isPast = askBeforeLeaving(() => state.known.edit && hasChanged(state.known.edit));
      stop = () => {
        keys();
        isPast();
      };
    },
    close: () => stop(),
  };
}

async function keep(state) {
  const { edit } = state.known;
  if (!hasChanged(edit)) return end(state);
  if (at.isSending) return undefined;
  at.isSending = true;
  const met = await attempt(() => sendOrMeet(edit, state.known.pageId)).finally(() => {
    at.isSending = false;
  });
  if (!met || !state.known.edit) return undefined;
  at.told?.remove();
  if (met !== edit) {
    state.set({ edit: met });
    at.told = say(metWords(met), { isFault: true });
    return undefined;
  }
  end(state);
  say("The panels are kept. What looks at them is measured again.");
  return load(state);
}

/** The edit itself where it is kept. Where somebody else corrected the panels meanwhile, it is one with theirs in it, to be looked at first. */
async function sendOrMeet(edit, page) {
  for (let { version } = edit, tries = 1; ; tries++) {
    try {
      await send(edit.revision, bodyOf(edit), version);
      return edit;
    } catch (problem) {
      if (problem.status !== 412 || tries === MOST_TRIES) throw problem;
    }
    // The page first: panels that are kept between the two answers are then refused and met, not overwritten.
    version = (await readPage(page)).version;
    const now = await readRevision(edit.revision);
    if (areSame(edit.panels, panelsOf(now))) return edit;
    if (!areSame(edit.base, panelsOf(now))) return metWith(edit, now, version);
  }
}

const metWords = ({ theirs }) => ["Somebody corrected these panels meanwhile. Where you changed nothing, theirs stand.",
  theirs.length > 0 && "Where you both did, theirs is dashed and yours takes its place.", "Look, then keep once more."].filter(Boolean).join(" ");

function drop(state) {
  if (!hasChanged(state.known.edit)) return end(state);
  return askFirst("Leave the panels as they were?", "What you changed here is not kept.", "Leave them", () => end(state));
}

function end(state) {
  parts.close();
  at.told?.remove();
  document.getElementById("desk").classList.remove("is-correcting");
  state.set({ edit: null });
  backTo("correct-panels");
  // A newer picture may have waited for it.
  if (state.known.revision?.id !== state.known.page.current_revision?.id && !state.known.shownRevision) load(state, []);
}
