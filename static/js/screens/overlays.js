import { readRegistration, readRevision } from "../api/pages.js";
import { h, svg } from "../elements/h.js";
import { renditionFor } from "../elements/picture_part.js";
import { attempt, say } from "../elements/slips.js";
import { drawPlain, drawWarped } from "../elements/warped_sheet.js";
import { mapOfSteps, qualityOf } from "../geometry/page_map.js";
import { evidenceOn, notesListed, panelsShown } from "./desk_facts.js";
import { BASE_PX, sizeOf, toScreen } from "./desk_picture.js";
import { familiesOfPanel, linesOfPanel } from "./overlays_lines.js";
import { stillOfPanel } from "./overlays_stills.js";

const SHARP_PX = 1600;

/** What can be laid over the page one by one: stills, grids and eye levels, the edges that were measured, the revision before. */
export function showOverlays(state, view) {
  const lines = svg("svg", { class: "drawn overlay-lines", "aria-hidden": "true" });
  const before = h("canvas", { class: "overlay-before", "aria-hidden": "true", hidden: true });
  view.insertBefore(before, document.getElementById("drawn"));
  view.append(lines);
  const known = state.known;
  const isTold = { none: false };
  const noStill = () => {
    queueMicrotask(() => state.set({ overlays: { ...known.overlays, stills: false } }));
    say("No still lies under a panel of this picture. Choose a panel, tie a still to it and place it there.");
  };
  // In page px once for a picture; while one moves it, the group moves.
  const group = svg("g", {});
  lines.append(group);
  const place = () => {
    if (!known.view || !known.revision) return;
    const at = toScreen(known);
    const [[x, y], [right]] = [at([0, 0]), at([1, 0])];
    group.setAttribute("transform", `translate(${x} ${y}) scale(${(right - x) / (known.revision.width_px || BASE_PX)})`);
    const { width, height } = sizeOf(known.revision);
    Object.assign(before.style, { width: `${width}px`, height: `${height}px`, transform: `translate(${known.view.x}px, ${known.view.y}px) scale(${known.view.scale})` });
  };
  const draw = () => {
    if (!known.revision?.width_px) return group.replaceChildren();
    const size = { width: known.revision.width_px, height: known.revision.height_px };
    const { stills, grid, level, edges } = known.overlays;
    const under = stills ? panelsShown(known).flatMap((panel) => stillOfPanel(panel, size)) : [];
    if (stills && !under.length) noStill();
    if ((grid || level) && !isTold.none && !panelsShown(known).some((panel) => linesOfPanel(panel, known, size, { grid, level }).length)) {
      isTold.none = true;
      say("The perspective of no panel is known on this picture: there is no grid and no eye level to show.");
    }
    group.replaceChildren(
      ...under,
      ...(grid || level ? panelsShown(known).flatMap((panel) => linesOfPanel(panel, known, size, { grid, level })) : []),
      ...(edges ? edgesOf(known, size) : []));
    return place();
  };
  state.on(["view", "box"], place);
  state.on(["overlays", "revision", "panels", "notes", "showsClosed"], draw);
  showBefore(state, before, place);
}

/** The families of edges that the check found in each panel, and over them the evidence of all measured notes. */
function edgesOf(known, size) {
  const families = panelsShown(known).flatMap((panel) => familiesOfPanel(panel, known, size));
  const notes = notesListed(known).filter((note) => note.source === "measured");
  return [...families, ...notes.flatMap((note) => (evidenceOn(note, known)?.marks ?? []).filter(({ points }) => points.length === 2).map(({ kind, points }) => {
    const [[x0, y0], [x1, y1]] = points.map(([x, y]) => [x * size.width, y * size.height]);
    return svg("path", { class: `mark mark-${kind}`, d: `M${x0} ${y0}L${x1} ${y1}` });
  }))];
}

function showBefore(state, canvas, place) {
  const drawn = { revision: null };
  state.on(["overlays", "revision"], async ({ overlays, revision }) => {
    canvas.hidden = !overlays.before || drawn.revision !== revision?.id;
    if (!overlays.before || !revision || drawn.revision === revision.id) return;
    const found = await attempt(() => pictureBefore(revision));
    if (state.known.revision?.id !== revision.id || !found) return;
    if (!found.before) {
      state.set({ overlays: { ...state.known.overlays, before: false } });
      return say("No revision came before this one.");
    }
    [canvas.width, canvas.height] = [found.image.naturalWidth, Math.round((found.image.naturalWidth * revision.height_px) / revision.width_px)];
    if (found.steps && qualityOf(found.steps) > 0) drawWarped(canvas, found.image, mapOfSteps(found.steps));
    else drawPlain(canvas, found.image);
    drawn.revision = revision.id;
    place();
    canvas.hidden = !state.known.overlays.before;
  });
}

async function pictureBefore({ id }) {
  const { before, steps } = await readRegistration(id);
  if (!before) return { before };
  const image = new Image();
  image.src = renditionFor((await readRevision(before)).renditions, SHARP_PX).url;
  await image.decode();
  return { before, steps, image };
}
