import { h, swap } from "../elements/h.js";
import { picturePart, renditionFor } from "../elements/picture_part.js";
import { TONES, toneMark } from "../elements/tone_mark.js";
import { isOfPicture, ownState, panelOfTry, panelsShown } from "./desk_facts.js";
import { showPanel, wholePage } from "./desk_view.js";

const PART_PX = 1000;

/** The panels as a strip in reading order; each is the page's own picture seen through a window. */
export function showStrip(state, strip) {
  state.on(["revision", "panels", "panel", "notes"], (known) => {
    const panels = panelsShown(known);
    strip.hidden = false;
    swap(strip, h("ol", {}, [wholeItem(state), ...panels.map((panel) => panelItem(panel, state))]),
      known.revision && !panels.length && h("p", { class: "quiet small" }, stripWords(known)));
  });
}

function stripWords({ revision, panels, lost }) {
  if (revision.panel) return `A try at ${panelOfTry(revision, { panels, lost })}.`;
  const check = revision.checks?.find((one) => one.check === "panels");
  if (check?.state === "not_measured") return check.reason;
  return revision.state === "refused" ? revision.reason : "Looking for the panels …";
}

const wholeItem = (state) => h("li", {}, h("button", {
  type: "button", class: "strip-panel is-whole", "data-key": "strip-whole", "aria-pressed": String(!state.known.panel),
  onclick: () => {
    state.set({ panel: null });
    wholePage(state);
  },
}, "Whole page"));

function panelItem(panel, state) {
  const { known } = state;
  const rendition = renditionFor(known.revision.renditions, PART_PX);
  const open = known.notes.filter((note) => note.panel === panel.id && note.state === "open" && isOfPicture(note, known));
  const tones = open.filter((note) => note.source === "person").map(({ tone }) => tone);
  const people = tones.length;
  return h("li", {}, h("button", {
    type: "button", class: "strip-panel", "data-key": `strip-${panel.id}`, "aria-pressed": String(known.panel === panel.id),
    onclick: () => showPanel(state, panel),
  },
    rendition && picturePart(rendition, panel.polygon, { class: "strip-part" }),
    h("span", { class: "strip-foot" },
      h("span", { class: "out-of-sight" }, "Panel "), h("span", { class: "figure" }, String(panel.order)),
      people > 0 && tally("is-person", "with ", toneMark(TONES.find(([tone]) => tones.includes(tone))[0]), people, "open note"),
      open.length > people && tally("is-measured", people ? "and " : "with ", toneMark("measured"), open.length - people, "measured note"),
      ownState(panel.row) && h("span", { class: "strip-count is-person" }, ownState(panel.row)))));
}

const unseen = (words) => h("span", { class: "out-of-sight" }, words);
const tally = (kind, word, mark, n, what) => h("span", { class: `strip-count ${kind}` }, unseen(word), mark, String(n), unseen(n === 1 ? ` ${what}` : ` ${what}s`));
