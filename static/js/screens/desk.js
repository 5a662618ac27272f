import { lookingAt } from "../api/last_looks.js";
import { followBoard } from "../api/live.js";
import { readDraft } from "../elements/drafts.js";
import { State } from "./state.js";
import { showBeside } from "./desk_beside.js";
import { notYetKey } from "./desk_facts.js";
import { draftKey } from "./desk_draft.js";
import { showDrawn } from "./desk_drawn.js";
import { showAtHand } from "./desk_at_hand.js";
import { help, listenOnDesk } from "./desk_keys.js";
import { load, reloader } from "./desk_load.js";
import { showNotes } from "./desk_notes.js";
import { showPicture } from "./desk_picture.js";
import { showStrip } from "./desk_strip.js";
import { showTitleBlock } from "./desk_title_block.js";
import { handleView } from "./desk_view.js";
import { showHeadAsked, showLinesKept, showOverlaysAsked, showPostsKept } from "./tools_on_demand.js";

const at = (id) => document.getElementById(id);
const shell = JSON.parse(at("shell").textContent);
const wanted = new URLSearchParams(location.search);

const state = new State({
  ...shell,
  pageId: shell.page,
  pictured: Number(at("picture").dataset.revision) || null,
  page: null,
  panels: [],
  lost: [],
  revisions: [],
  revision: null,
  shownRevision: null,
  notes: [],
  note: Number(wanted.get("note")) || null,
  panel: Number(wanted.get("panel")) || null,
  draft: null,
  edit: null,
  marking: null,
  posting: null,
  shaping: null,
  postCast: [],
  overlays: { panels: true, notes: true, posts: true, grid: false, level: false, edges: false, before: false, stills: false },
  showsMore: false,
  showsClosed: false,
  notYet: readDraft(notYetKey({ pageId: shell.page, me: shell.me })) ?? [],
  pins: false,
  view: null,
  isMoved: false,
  box: { width: 0, height: 0 },
  isLoaded: false,
});

handleView(state, at("view"));
showPicture(state, at("picture"));
showDrawn(state, at("drawn"));
showStrip(state, at("strip"));
showNotes(state, { sheet: at("sheet"), view: at("view"), list: at("notes"), leaders: at("leaders"), ledge: at("at-hand") });
showAtHand(state, at("at-hand"));
showPostsKept(state);
showLinesKept(state);
showOverlaysAsked(state);
showHeadAsked(state);
showBeside(state, at("beside"));
showTitleBlock(state, at("title-block"));
listenOnDesk(state, at("view"));
at("help").addEventListener("click", help);

// A Desk whose line breaks meanwhile has the place of one that is alone.
await Promise.all([load(state), import("./draft_place.js").then((place) => place.takePlace(state)).catch(() => {})]);
if (readDraft(draftKey(state.known))) (await import("./draft_again.js")).takeUpDraft(state);
// From the last event that the page was made after: what came while it was on its way is caught up with.
const [read, look] = [reloader(state), lookingAt(shell.page, shell.last_event)];
followBoard(shell.board.id, shell.last_event, (change) => {
  read(change);
  look(change);
});
