import { call } from "../api/http.js";
import { openDialog } from "../elements/dialog.js";
import { h } from "../elements/h.js";
import { headsChart } from "../elements/heads_chart.js";
import { renditionFor } from "../elements/picture_part.js";
import { attempt } from "../elements/slips.js";
import { heightsTold } from "../geometry/cast_sizes.js";

/** One character: its heads over the pages, its sheets in time with their landmarks, its ratios, and where each comes from. */
export async function characterSight(character) {
  const presets = await attempt(() => call("GET", "/presets"));
  if (!presets) return;
  const preset = presets.find(({ id }) => id === character.preset);
  openDialog(character.name, () => [
    h("p", {}, [heightsTold(character) || "no height given", character.head_count && `${character.head_count.toFixed(1)} heads by its sheet`, character.age_band].filter(Boolean).join(", ")),
    h("h3", {}, "Heads over the pages"), headsChart(character),
    h("h3", {}, "Proportions"), ratios(character, preset),
    h("h3", {}, "Model sheets"), sheets(character),
  ], { isWide: true });
}

/** Published ones stand beside the sheet's, with their source; figures are measured against the sheet alone. */
function ratios({ segments, head_count: heads }, preset) {
  const names = [...new Set([...Object.keys(segments), ...Object.keys(preset?.segments ?? {})])];
  if (!names.length && !heads && !preset) return h("p", { class: "quiet" }, "No landmark is marked on a model sheet yet.");
  const share = (value) => (value === undefined ? "" : value.toFixed(3));
  const cell = (words) => h("td", {}, words);
  return h("div", { class: "ratios" },
    h("table", { class: "cast-table" }, h("caption", { class: "out-of-sight" }, "Shares of the height"),
      h("thead", {}, h("tr", {}, ["Share of the height", "By its sheet", preset?.label].filter(Boolean).map((words) => h("th", { scope: "col" }, words)))),
      h("tbody", {},
        h("tr", {}, h("th", { scope: "row" }, "heads"), cell(heads ? heads.toFixed(2) : ""), preset && cell(preset.heads ? preset.heads.toFixed(2) : "")),
        names.map((name) => h("tr", {}, h("th", { scope: "row" }, name.replaceAll("-", " ")), cell(share(segments[name])), preset && cell(share(preset.segments?.[name])))))),
    h("p", { class: "small quiet" }, preset ? `${preset.label}: ${preset.source}. To draw by; figures are measured against the sheet alone.` : "By the landmarks on its sheets; figures are measured against these."));
}

function sheets({ sheets: all }) {
  if (!all.length) return h("p", { class: "quiet" }, "No sheet yet.");
  const inTime = [...all].sort((a, b) => a.from_page - b.from_page || a.id - b.id);
  return h("ul", { class: "sheets-in-time" }, inTime.map(({ view, from_page: page, landmarks, reference }) => {
    const picture = renditionFor(reference.renditions, 400);
    const marked = Object.keys(landmarks).map((name) => name.replaceAll("-", " "));
    return h("li", {}, picture && h("img", { src: picture.url, width: picture.width_px, height: picture.height_px, alt: reference.title, loading: "lazy" }),
      h("p", {}, `From page ${page}, ${view}`), h("p", { class: "small quiet" }, marked.length ? `Marked: ${marked.join(", ")}` : "Nothing is marked on it."));
  }));
}
