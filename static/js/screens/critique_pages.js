import { h, svg, word } from "../elements/h.js";
import { say, whisper } from "../elements/slips.js";
import { cropMarks, outline, registerMark } from "../geometry/crop_marks.js";
import { bounds } from "../geometry/page_space.js";
import { nudged, spoken } from "../gestures/nudge_region.js";

const ACROSS = 1000;

/** The pages of the work, with the spots that the points speak of. A spot is set by a click, or by arrow keys and Enter. */
export function workPages(pages) {
  const sheets = pages.map((page) => pageSheet(page));
  const element = h("div", { class: "work-pages" }, sheets.map((sheet) => sheet.element));
  const shown = sheets.filter((sheet) => sheet.page.picture);
  const mark = (points) => sheets.forEach((sheet) => sheet.mark(points.filter((point) => point.page === sheet.page.page && point.region)));
  let begun = null;
  /** Leaves the spot that is being shown, if one is; the point stays as it was. */
  const stop = (isShown = false) => {
    const done = begun;
    begun = null;
    for (const sheet of sheets) sheet.stop();
    done?.(isShown);
  };
  return {
    element, mark, stop,
    /** Lets the spot of a point be shown. @param {any} point @param {(isShown: boolean) => void} done @returns {boolean} whether it can be */
    place(point, done) {
      const from = /** @type {HTMLElement|null} */ (document.activeElement);
      const end = (changes) => {
        if (changes) Object.assign(point, changes);
        from?.focus();
        stop(Boolean(changes));
      };
      stop();
      if (!shown.length) {
        say("No page of this work is shown any more.");
        return false;
      }
      begun = done;
      for (const sheet of shown) sheet.start(point, end);
      (shown.find((sheet) => sheet.page.page === point.page) ?? shown[0]).element.focus();
      whisper("Click on the page, or move the mark by arrow keys. Enter keeps it, Escape leaves it.");
      return true;
    },
  };
}

function pageSheet(page) {
  const height = (ACROSS * (page.height_px ?? 1400)) / (page.width_px ?? 1000);
  const marks = svg("svg", { class: "spot", viewBox: `0 0 ${ACROSS} ${height}`, "aria-hidden": "true" });
  // Also here: on a telephone the button that began it is out of sight.
  const tip = h("p", { class: "placing-words", hidden: true, onclick: (event) => event.stopPropagation() },
    "Tap the spot, or ", word("leave it as it was", () => placing?.end(null)));
  const element = h("figure", { class: "work-page", "aria-label": `Page ${page.page}` }, tip,
    page.is_withdrawn && h("figcaption", { class: "withdrawn" }, `Page ${page.page}: withdrawn by its artist since.${page.picture ? " Its critic no longer sees it." : ""}`),
    page.picture && h("div", { class: "work-picture" },
      h("img", { src: page.picture, width: page.width_px, height: page.height_px, alt: `Page ${page.page} of the work${page.is_withdrawn ? ", withdrawn" : ""}` }), marks));
  const surface = marks.parentElement ?? element;
  const onSheet = ([x, y]) => [x * ACROSS, y * height];
  // A script may give a region where a browser gives a spot.
  const marked = ({ point, polygon }) => (point ? registerMark(onSheet(point), 11) : cropMarks(bounds(polygon.map(onSheet)), 6, 22) + (polygon.length > 4 ? outline(polygon.map(onSheet)) : ""));
  const draw = (regions) => marks.replaceChildren(...regions.map((region) => svg("path", { d: marked(region) })));
  let placing = null;
  let shown = [];
  element.addEventListener("click", (event) => {
    if (!placing) return;
    const box = surface.getBoundingClientRect();
    placing.end({ page: page.page, region: { point: [(event.clientX - box.left) / box.width, (event.clientY - box.top) / box.height] } });
  });
  element.addEventListener("keydown", (event) => {
    if (!placing || event.target !== element) return;
    if (event.key === "Escape") return placing.end(null);
    if (event.key === "Enter") {
      event.preventDefault(); // the focus goes back to the button, which this very key would press
      return placing.end({ page: page.page, region: placing.region });
    }
    const moved = nudged(placing.region, event);
    if (!moved) return;
    event.preventDefault();
    placing.region = moved;
    draw([...shown, moved]);
    whisper(spoken(moved));
  });
  return {
    page, element,
    mark(points) {
      shown = points.map((point) => point.region);
      draw(shown);
    },
    start(point, end) {
      const own = point.page === page.page && point.region;
      placing = { end, region: own || { point: [0.5, 0.5] } };
      tip.hidden = false;
      element.classList.add("is-placing");
      element.tabIndex = 0;
      if (own || point.page === page.page) draw([...shown, placing.region]);
    },
    stop() {
      if (placing) draw(shown);
      placing = null;
      tip.hidden = true;
      element.classList.remove("is-placing");
      element.removeAttribute("tabindex");
    },
  };
}
