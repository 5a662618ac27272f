/** Tools whose script is fetched when they are asked for: most visits to the Desk need none of them. */

export const mayCorrect = ({ revision, may, draws }) => revision?.state === "ready" && !revision.panel && (may.run_board || draws);

export async function correctPanels(state) {
  if (!mayCorrect(state.known) || state.known.marking || state.known.posting) return;
  const editing = await import("./panels_edit.js");
  editing.correctPanels(state);
}

/** @param {number|null} [at] the panel that the cross begins in */
export async function markFigures(state, at) {
  if (!mayCorrect(state.known) || state.known.posting) return;
  const marking = await import("./figures_mark.js");
  await marking.markFigures(state, at);
}

export const asWideAsView = async (state) => (await import("./desk_wide.js")).asWideAsView(state);

export async function standPosts(state) {
  if (!mayCorrect(state.known)) return;
  const posts = await import("./posts.js");
  await posts.standPosts(state);
}

/** Where posts stand on this page, they are drawn as soon as they are known. */
export function showPostsKept(state) {
  const seen = { asked: false };
  state.on(["panels"], ({ panels }) => {
    if (seen.asked || !panels.some((panel) => panel.figure_posts?.posts.length)) return;
    seen.asked = true;
    import("./posts.js").then((posts) => posts.showPosts(state));
  });
}

/** When a note's region is drawn as an outline, or a note draws over the page. */
export async function drawShapes(state) {
  if (state.known.revision && state.known.may.write) (await import("./shapes.js")).drawShapes(state);
}

/** Where notes draw over this page, and while one is written that does. */
export function showLinesKept(state) {
  const seen = { asked: false };
  state.on(["notes", "draft"], ({ notes, draft }) => {
    if (seen.asked || !(draft?.lines?.length || notes.some((note) => note.lines?.length))) return;
    seen.asked = true;
    import("./note_lines.js").then((lines) => lines.showLines(state, document.getElementById("view")));
  });
}

/** Which picture lies here is told by the page as it comes; from the first other one on, by the head. */
export function showHeadAsked(state) {
  const seen = { asked: false, first: state.known.pictured };
  state.on(["page", "revision"], ({ page, revision }) => {
    if (seen.asked || !page || [revision, page.current_revision].every((one) => (one?.id ?? null) === seen.first)) return;
    seen.asked = true;
    import("./desk_head.js").then((head) => head.showHead(state, document.getElementById("which")));
  });
}

/** The further overlays come with the first that is laid over. */
export function showOverlaysAsked(state) {
  const seen = { asked: false };
  state.on(["overlays"], ({ overlays: { stills, grid, level, edges, before } }) => {
    if (seen.asked || !(stills || grid || level || edges || before)) return;
    seen.asked = true;
    import("./overlays.js").then((overlays) => overlays.showOverlays(state, document.getElementById("view")));
  });
}

/** @param {"panels"|"notes"|"posts"|"stills"|"grid"|"level"|"edges"|"before"} name */
export const layOver = (state, name) => state.set({ overlays: { ...state.known.overlays, [name]: !state.known.overlays[name] } });

export const MORE_OVERLAYS = [["grid", "Grid", "4"], ["level", "Eye level", "5"], ["posts", "Posts", "6"], ["edges", "Edges", "7"], ["before", "Revision before", "8"], ["stills", "Stills", "9"]];
