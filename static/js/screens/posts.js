import { castOf } from "../api/figures.js";
import { h } from "../elements/h.js";
import { backTo } from "../elements/more.js";
import { attempt, whisper } from "../elements/slips.js";
import { asOnPage } from "../geometry/cast_sizes.js";
import { middleOf } from "../geometry/page_space.js";
import { spoken } from "../gestures/nudge_region.js";
import { panelsShown } from "./desk_facts.js";
import { drawPosts } from "./posts_drawn.js";
import { holdMine, keep } from "./posts_kept.js";
import { listenWhilePosting } from "./posts_keys.js";
import { begun, keptOn, panelUnder, within } from "./posts_model.js";
import { showPostTools } from "./posts_tools.js";

let parts = null;

/** The posts that stand on this page are drawn, each as tall as the cast has it. */
export async function showPosts(state) {
  const { board, page } = state.known;
  const cast = (await attempt(() => castOf(board.id)))?.map((one) => asOnPage(one, page.numbers[0]));
  if (!cast) return null;
  state.set({ postCast: cast });
  parts ??= mount(state);
  return cast;
}

/** Posts are stood on the floor, moved and taken away; each change is kept at once. */
export async function standPosts(state) {
  const { known } = state;
  if (known.edit || known.marking || known.posting || !known.revision) return;
  const cast = await showPosts(state);
  if (!cast) return;
  const panel = panelsShown(known).find((one) => one.id === known.panel);
  state.set({ posting: begun(known.revision.id, cast, panel && middleOf({ polygon: panel.polygon })), note: null, draft: null });
  document.getElementById("desk").classList.add("is-posting");
  parts.open();
  document.getElementById("view").focus();
}

function mount(state) {
  const ledge = h("div", { class: "at-hand post-ledge" });
  const view = document.getElementById("view");
  document.getElementById("at-hand").after(ledge);
  const deeds = deedsOf(state);
  showPostTools(state, ledge, deeds);
  drawPosts(state, view, deeds);
  let stop = () => {};
  holdMine(state);
  state.on(["revision"], ({ posting, revision }) => posting && posting.revision !== revision?.id && end(state));
  return { open: () => { stop = listenWhilePosting(state, view, deeds); }, close: () => stop() };
}

/** @returns what a pointer, a key or a button may do */
function deedsOf(state) {
  const set = (fields) => state.set({ posting: { ...state.known.posting, ...fields } });
  const inHand = () => {
    const { chosen } = state.known.posting;
    const panel = chosen && panelsShown(state.known).find((one) => one.id === chosen.panel);
    return panel && { panel, index: chosen.index };
  };
  const keepWith = (panel, change) => keep(state, panel, { posts: change(keptOn(panel)) });
  const move = ({ panel, index }, foot) => {
    set({ chosen: { panel: panel.id, index } });
    whisper(spoken({ point: foot }));
    return keepWith(panel, (posts) => posts.map((post, i) => (i === index ? { ...post, foot } : post)));
  };
  return {
    move,
    character: (id) => set({ character: id, chosen: null }),
    choose: ({ panel, index }) => set({ chosen: { panel: panel.id, index } }),
    stand: (foot) => {
      const panels = panelsShown(state.known);
      const panel = panelUnder(panels, foot) ?? panels.find(({ id }) => id === state.known.panel);
      const { character } = state.known.posting;
      if (!panel || !character) return whisper(panel ? "Choose a character first." : "A post stands inside a panel.");
      set({ chosen: null, cursor: foot });
      return keepWith(panel, (posts) => [...posts, { foot, character }]);
    },
    nudge: (by) => {
      const one = inHand();
      if (one) move(one, keptOn(one.panel)[one.index].foot.map((v, i) => within(v + by[i])));
    },
    remove: () => {
      const one = inHand();
      if (!one) return;
      set({ chosen: null });
      keepWith(one.panel, (posts) => posts.filter((_, i) => i !== one.index));
    },
    eye: ({ id }, eyeM) => keep(state, panelsShown(state.known).find((one) => one.id === id), { eye_height_m: eyeM }),
    back: () => (state.known.posting.chosen ? set({ chosen: null }) : end(state)),
    done: () => end(state),
  };
}

function end(state) {
  state.set({ posting: null });
  document.getElementById("desk").classList.remove("is-posting");
  parts.close();
  backTo("stand-posts");
}
