import { correctPanels as send } from "../api/pages.js";
import { askFirst } from "../elements/dialog.js";
import { h } from "../elements/h.js";
import { backTo } from "../elements/more.js";
import { attempt, say } from "../elements/slips.js";
import { load } from "./desk_load.js";
import { wholePage } from "./desk_view.js";
import { drawPanelsEdit } from "./panels_edit_drawn.js";
import { listenWhileEditing } from "./panels_edit_keys.js";
import { begun, bodyOf, hasChanged } from "./panels_edit_model.js";
import { showEditStrip } from "./panels_edit_strip.js";
import { showEditTools } from "./panels_edit_tools.js";

let parts = null;

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
  // Another picture came to lie there: what was drawn on the old one does not fit it.
  state.on(["revision"], ({ edit, revision }) => {
    if (!edit || edit.revision === revision?.id) return;
    end(state);
    say("Another picture lies here now; the panels of the one before were left as they were.");
  });
  return {
    open: () => {
      const keys = listenWhileEditing(state, view, deeds);
      deeds.help = keys.help;
      stop = keys;
    },
    close: () => stop(),
  };
}

async function keep(state) {
  const { edit } = state.known;
  if (!hasChanged(edit)) return end(state);
  const onRefusal = () => load(state, ["page"]).then(() => state.known.edit && state.set({ edit: { ...state.known.edit, version: state.known.page.version } }));
  const kept = await attempt(() => send(edit.revision, bodyOf(edit), edit.version), { done: "The panels are kept. What looks at them is measured again.", onRefusal });
  if (!kept) return undefined;
  end(state);
  return load(state);
}

function drop(state) {
  if (!hasChanged(state.known.edit)) return end(state);
  return askFirst("Leave the panels as they were?", "What you changed here is not kept.", "Leave them", () => end(state));
}

function end(state) {
  parts.close();
  document.getElementById("desk").classList.remove("is-correcting");
  state.set({ edit: null });
  backTo("correct-panels");
}
