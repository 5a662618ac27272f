import { svg } from "../elements/h.js";
import { registerMark } from "../geometry/crop_marks.js";
import { bounds } from "../geometry/page_space.js";
import { listen } from "../gestures/pan_zoom.js";
import { panelsShown } from "./desk_facts.js";
import { toPage, toScreen } from "./desk_picture.js";
import { isChosen, keptOn, postsShown, within } from "./posts_model.js";

const A_TAP_MOVES_PX = 6;
const NEAR_PX = 16;

/** Posts over the picture. While they are stood: a tap on the floor sets one, a drag from a foot moves it, a tap on one takes it in hand. */
export function drawPosts(state, surface, deeds) {
  const { known } = state;
  const layer = svg("svg", { class: "figure-posts", "aria-hidden": "true" });
  surface.append(layer);
  const held = { from: null, one: null, foot: null };
  const at = (event) => {
    const box = surface.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  };
  const onPage = (point) => toPage(known, point).map(within);
  const isShown = () => known.view && known.revision && (known.posting || known.overlays.posts);
  const show = () => layer.replaceChildren(...(isShown() ? drawAll(known, held) : []));
  listen(layer, {
    pointerdown: (event) => {
      if (event.button !== 0 || !event.isPrimary) return;
      Object.assign(held, { from: at(event), one: nearest(known, at(event)), foot: null });
      if (!held.one) return;
      event.stopPropagation();
      layer.setPointerCapture(event.pointerId);
    },
    pointermove: (event) => {
      if (!held.one || apart(at(event), held.from) <= A_TAP_MOVES_PX) return;
      held.foot = onPage(at(event));
      show();
    },
    pointerup: (event) => {
      const { from, one, foot } = held;
      Object.assign(held, { from: null, one: null, foot: null });
      if (one && foot) deeds.move(one, foot);
      else if (one) deeds.choose(one);
      else if (from && apart(at(event), from) <= A_TAP_MOVES_PX) deeds.stand(onPage(at(event)));
    },
    pointercancel: () => {
      Object.assign(held, { from: null, one: null, foot: null });
      show();
    },
  });
  state.on(["posting", "overlays", "postCast", "panels", "revision", "view", "box"], show);
}

const apart = (a, b) => Math.hypot(a[0] - b[0], a[1] - b[1]);
const shownOn = (known) => postsShown(panelsShown(known), known.revision, known.postCast);

function nearest(known, point) {
  const toPx = toScreen(known);
  return shownOn(known).find(({ post, drawn }) => [post.foot, drawn.top].filter(Boolean).some((end) => apart(toPx(end), point) < NEAR_PX)) ?? null;
}

function drawAll(known, { one, foot }) {
  const toPx = toScreen(known);
  const panels = panelsShown(known);
  const shown = postsShown(foot ? panels.map((panel) => withFoot(panel, one, foot)) : panels, known.revision, known.postCast);
  const cross = known.posting && svg("path", { class: "post-cross", d: registerMark(toPx(known.posting.cursor), 11) });
  return [...shown.flatMap((each) => drawPost(each, toPx, known.posting && isChosen(known.posting, each))), cross].filter(Boolean);
}

/** The panel as it will be once the foot that is being dragged is let go. */
function withFoot(panel, one, foot) {
  if (panel.id !== one.panel.id) return panel;
  const posts = keptOn(panel).map((post, index) => (index === one.index ? { ...post, foot } : post));
  return { ...panel, row: { ...panel.row, figure_posts: { ...panel.row.figure_posts, posts, bounds: bounds(panel.polygon) } } };
}

function drawPost({ post, drawn }, toPx, isHeld) {
  const foot = toPx(post.foot);
  const kind = isHeld ? " is-chosen" : "";
  const end = svg("path", { class: `post-foot${kind}${drawn.reason ? " is-not" : ""}`, d: registerMark(foot, 6) });
  if (drawn.reason) return [end];
  const top = toPx(drawn.top);
  const lines = [[post.foot, drawn.top], ...drawn.ticks].map((ends) => `M${ends.map((point) => toPx(point).map((v) => v.toFixed(1)).join(" ")).join("L")}`);
  return [svg("path", { class: `post${kind}`, d: lines.join("") }), end, svg("text", { class: "post-name", x: top[0] + 8, y: top[1] - 6 }, `${drawn.name} ${drawn.heightM} m`.trim())];
}
