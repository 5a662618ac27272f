import { castOf } from "../api/figures.js";
import { askUnderlay, readUnderlay } from "../api/pages.js";
import { boxes, ticked } from "../elements/boxes.js";
import { openDialog } from "../elements/dialog.js";
import { field, form } from "../elements/field.js";
import { h, swap } from "../elements/h.js";
import { attempt } from "../elements/slips.js";
import { underlayPreview } from "../elements/underlay_preview.js";
import { asOnPage } from "../geometry/cast_sizes.js";
import { bounds } from "../geometry/page_space.js";
import { seenIn } from "../geometry/panel_seen.js";
import { viewOfPanel } from "../geometry/panel_view.js";
import { eyeHeightOn, postsShown } from "./posts_model.js";
import { asGuides, underlayThings } from "./underlay_things.js";

const INCLUDES = [["grid", "floor"], ["walls", "walls"], ["eye-level", "eye level"], ["guides", "figures and boxes"], ["notes", "notes"]];
const FILES = [["ora", "OpenRaster, with a layer each"], ["png", "PNG with nothing behind it"], ["svg", "SVG"]];
const AGAIN_MS = 700;

/** What is in the underlay of one panel, and then its files. */
export function underlayDialog(panel, { known }) {
  openDialog(`An underlay for panel ${panel.order}`, (_, dialog) => underlayForm(panel, known, dialog), { isWide: true });
}

function underlayForm(panel, { revision, board, page }, dialog) {
  const check = revision.checks?.find((one) => one.check === "perspective");
  const numbers = seenIn(panel, revision);
  const why = check?.numbers?.not_measured?.[String(panel.id)] || check?.reason || "The perspective of this panel is not measured yet.";
  const kept = { posts: panel.row?.figure_posts?.posts ?? [], eyeHeightM: eyeHeightOn(panel, revision), cast: [] };
  const eye = h("input", { type: "number", min: "0.01", max: "1000", step: "any", inputmode: "decimal", placeholder: kept.eyeHeightM?.toFixed(2) });
  const step = h("input", { type: "number", min: "0.01", max: "1000", step: "any", inputmode: "decimal" });
  const wish = () => ({
    includes: ticked(element, "includes"), step: Number(step.value) || null, things: parts.things, ...withEye(Number(eye.value) || null),
  });
  const withEye = (said) => ({
    eyeHeightM: said ?? kept.eyeHeightM, saidEyeM: said,
    posts: postsShown([said ? withEyeHeight(panel, said) : panel], revision, kept.cast).map(({ drawn }) => drawn),
  });
  const preview = underlayPreview(revision, panel, numbers, (point) => parts.onFloor(point));
  const view = viewOfPanel(numbers, panel.polygon, { width: revision.width_px, height: revision.height_px });
  const parts = underlayThings(bounds(panel.polygon), () => preview.show(wish()), Boolean(view.focalIsAssumed));
  const files = h("div", { class: "underlay-files", role: "status" });
  const element = form({}, () => make(panel, revision, wish(), files, dialog),
    numbers ? preview.element : h("p", { class: "quiet" }, `There is no grid. ${why}`),
    boxes("What is in it", "includes", INCLUDES, INCLUDES.map(([value]) => value)),
    h("div", { class: "pair" },
      field("Eye over the floor, m", eye, "Once it is known, squares are in metres, and things of real size can stand on the floor."),
      field("Side of the squares", step, "In metres, or in eye heights while no height is known.")),
    numbers && parts.element,
    h("div", { class: "buttons" }, h("button", { class: "button first" }, "Make the files")), files);
  element.addEventListener("input", () => parts.show());
  parts.show();
  if (kept.posts.length) showWithCast(kept, board, page, parts);
  return element;
}

/** Posts are as tall as the cast has it on this page. */
async function showWithCast(kept, board, page, parts) {
  kept.cast = ((await attempt(() => castOf(board.id))) ?? []).map((one) => asOnPage(one, page.numbers[0]));
  parts.show();
}

/** As the files have it: what is said here is of this underlay alone, and the panel's own is kept. */
const withEyeHeight = (panel, eyeM) => ({ ...panel, row: { ...panel.row, figure_posts: { posts: [], ...panel.row?.figure_posts, eye_height_m: eyeM } } });

async function make(panel, revision, { includes, step, saidEyeM, things }, files, dialog) {
  const fields = { panel: panel.id, includes, ...asGuides(things), ...(step && { step }), ...(saidEyeM && { eye_height_m: saidEyeM }) };
  // Below all that is chosen: what comes there is brought into sight.
  const tell = (...words) => {
    swap(files, ...words);
    files.scrollIntoView({ block: "nearest" });
  };
  tell(h("p", {}, "The files are being made …"));
  let underlay = await attempt(() => askUnderlay(revision.id, fields));
  while (underlay?.state === "queued" && dialog.open) {
    await new Promise((resolve) => setTimeout(resolve, AGAIN_MS));
    underlay = await attempt(() => readUnderlay(underlay.id));
  }
  if (!underlay) return swap(files);
  if (underlay.state === "failed") return tell(h("p", { class: "fault" }, underlay.reason));
  tell(h("ul", { class: "rows" }, FILES.filter(([kind]) => underlay.files[kind]).map(([kind, words]) =>
    h("li", {}, h("a", { href: underlay.files[kind], download: "" }, words)))),
    Object.entries(underlay.not_drawn).map(([what, reason]) => h("p", { class: "small quiet" }, `${nameOf(what, panel)}: ${reason}`)));
}

const nameOf = (what, panel) => (what === String(panel.id) ? "No grid" : what);
