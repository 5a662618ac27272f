/** Figure posts of the Desk: where they stand, how tall they are, and what is done to them. Pure; nothing here touches the page or the server. */
import { postAt } from "../geometry/figure_posts.js";
import { seenIn } from "../geometry/panel_seen.js";
import { viewOfPanel } from "../geometry/panel_view.js";
import { contains, toPage, toPixels } from "../geometry/page_space.js";
import { movedOnto } from "../geometry/still_placement.js";

const numbersOf = (revision, check, panel) =>
  revision.checks?.find((one) => one.check === check)?.numbers?.panels?.find((one) => one.panel === panel) ?? null;

/** The viewer's eye over the floor: as said here, else as the still's camera has it, else as the marked figures have it. */
export function eyeHeightOn({ id, row }, revision) {
  const said = row?.figure_posts?.eye_height_m;
  const still = row?.still?.camera?.eye_height_m;
  return said ?? still ?? numbersOf(revision, "heights", id)?.eye_height_m ?? null;
}

/** The posts that are kept with a panel, their feet on the drawing shown. */
export function keptOn(panel) {
  const kept = panel.row?.figure_posts;
  return kept ? kept.posts.map((post) => ({ ...post, foot: movedOnto([post.foot], kept.bounds, panel.polygon)[0] })) : [];
}

/** A post as it is drawn, in page coordinates, or the reason why it cannot stand there. */
export function standing(post, panel, revision, cast) {
  const who = cast.find((one) => one.id === post.character);
  const name = who?.name ?? post.name ?? "";
  const heightM = post.height_m ?? who?.height_m;
  if (!heightM) return { name, reason: "This character has no height in the cast." };
  const size = { width: revision.width_px, height: revision.height_px };
  const eyeM = eyeHeightOn(panel, revision);
  const view = viewOfPanel(seenIn(panel, revision), panel.polygon, size, eyeM);
  if ("reason" in view) return { name, reason: view.reason };
  if (!eyeM) return { name, reason: "How high the viewer's eye is has to be known: mark one figure whose height the cast has, or say it." };
  const seen = { horizon: view.horizon, eyeHeightM: view.eyeHeight, upright: view.upright };
  const drawn = postAt(toPixels(size, post.foot), heightM, seen, { heads: post.heads ?? who?.head_count });
  if ("reason" in drawn) return { name, reason: drawn.reason };
  const back = (point) => toPage(size, point);
  return { name, heightM, foot: post.foot, top: back(drawn.top), ticks: drawn.ticks.map(({ ends }) => ends.map(back)) };
}

/** Everything that stands on the picture shown: {panel, index, post, drawn}. */
export const postsShown = (panels, revision, cast) => panels.flatMap((panel) =>
  keptOn(panel).map((post, index) => ({ panel, index, post, drawn: standing(post, panel, revision, cast) })));

/** Where a foot may lie: below the picture too, whose edge cuts figures off as a frame does. */
export const within = (v) => Math.min(2, Math.max(-1, v));

export const panelUnder = (panels, point) => panels.filter(({ polygon }) => contains(polygon, point)).at(-1) ?? null;

/** That of the post in hand; else the one in which the cross stands, where the last post was put. */
export const panelAtHand = (panels, { chosen, cursor }) => panels.find(({ id }) => id === chosen?.panel) ?? panelUnder(panels, cursor);

export const begun = (revision, cast, middle = [0.5, 0.8]) =>
  ({ revision, cast, character: cast.find((one) => one.height_m)?.id ?? null, chosen: null, cursor: middle });

export const isChosen = ({ chosen }, { panel, index }) => chosen?.panel === panel.id && chosen.index === index;

/** What to do now, in one line. */
export function says({ cast, character, chosen }) {
  if (!cast.some((one) => one.height_m)) return "Nobody in the cast has a height yet. Give each one theirs on the Line-up first.";
  const name = cast.find((one) => one.id === character)?.name ?? "a character";
  if (chosen) return "Drag its foot, or move it by arrow keys; Delete takes it away, Escape lets it go.";
  return `Tap the floor where ${name} stands, or move the cross by arrow keys and press Enter.`;
}
