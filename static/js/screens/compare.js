import { followBoard } from "../api/live.js";
import { readDraft } from "../elements/drafts.js";
import { helpDialog, listenOnCompare } from "./compare_keys.js";
import { showLayers } from "./compare_layers.js";
import { showLedge } from "./compare_ledge.js";
import { load, loadNotes } from "./compare_load.js";
import { showNotes } from "./compare_notes.js";
import { showNoteMarks } from "./compare_notes_drawn.js";
import { showPair } from "./compare_pair.js";
import { showPanels } from "./compare_panels.js";
import { showSheets } from "./compare_sheets.js";
import { handleView } from "./compare_view.js";
import { nameOfRevision } from "./compare_facts.js";
import { notYetKey } from "./desk_facts.js";
import { State } from "./state.js";

const at = (id) => document.getElementById(id);
const shell = JSON.parse(at("shell").textContent);
const asked = new URLSearchParams(location.search);

const state = new State({
  ...shell,
  pageId: shell.page,
  page: null,
  wanted: { before: Number(asked.get("before")) || null, after: Number(asked.get("after")) || null },
  revisions: [],
  older: null,
  newer: null,
  steps: null,
  wantsRegistered: true,
  mode: "fade",
  fade: 50,
  edge: 50,
  isFlipped: false,
  panel: null,
  spot: null,
  view: null,
  isMoved: false,
  box: { width: 0, height: 0 },
  drawn: "",
  difference: null,
  isLoaded: false,
  // What the Desk's deeds on notes ask for too: the newer sheet is the one that is shown.
  revision: null,
  panels: [],
  pageNotes: [],
  notes: [],
  note: Number(asked.get("note")) || null,
  notYet: readDraft(notYetKey({ pageId: shell.page, me: shell.me })) ?? [],
  showsClosed: false,
  showsNotes: true,
});

const panes = [at("pane-one"), at("pane-two")];
const canvases = { older: at("older"), newer: at("newer"), differs: at("differs") };
showLayers(state, { root: at("compare"), panes, edge: at("edge"), layers: { older: at("layer-older"), newer: at("layer-newer"), differs: at("layer-differs") } });
handleView(state, { panes, drawn: at("drawn"), canvases: Object.values(canvases) });
showSheets(state, canvases);
showPair(state, at("pair"));
showPanels(state, at("panels"));
showLedge(state, at("ledge"));
showNoteMarks(state, [at("notes-one"), at("notes-two")]);
showNotes(state, { root: at("compare"), list: at("notes") });
listenOnCompare(state, at("pane-one"));
at("help").addEventListener("click", helpDialog);
state.on(["drawn", "isLoaded", "newer"], ({ drawn, isLoaded, newer }) => {
  at("compare").setAttribute("aria-busy", String(!drawn && Boolean(newer || !isLoaded)));
  at("panes").hidden = isLoaded && !newer;
});
state.on(["older", "newer"], ({ older, newer }) => {
  for (const [canvas, one] of [[canvases.older, older], [canvases.newer, newer]])
    if (one) canvas.setAttribute("aria-label", `Revision ${nameOfRevision(one)}`);
});

followBoard(shell.board.id, shell.last_event, ({ kind, page }) => {
  if (page !== shell.page) return;
  if (/^(revision|renditions|panels)/.test(kind)) load(state);
  else if (/^note/.test(kind)) loadNotes(state);
});
load(state);
