/**
 * Which page a picture's file name means: the twin of board/page_names.py; tests/vectors/page_names.json is run by both.
 *
 * @typedef {{gap: string, text: string}} Token `gap` is what stands before it
 * @typedef {{numbers: number[], isSure: boolean, stages: string[], alternate: string|null, isPanel: boolean}} PageName `numbers`: one, or
 *   two of a spread; where the name can be read in several ways it is not sure, and they are all that it may mean
 */

const set = (words) => new Set(words.split(" "));
const PAGE_WORDS = set("p pp pg pgs page pages pag pagina página seite sida spread");
const PANEL_WORDS = set("panel panels pnl");
const ALTERNATE_WORDS = set("alt alternate");
// A number after one of these counts something else.
const OTHER_WORDS = set("alt alternate v ver vers version r rev revision draft take try copy of ch chap chapter ep episode vol volume issue act scene part book img dsc dscn pxl");
const UNITS = set("dpi ppi px mm cm in k bit");
export const STAGE_WORDS = {
  thumbnail: set("thumbnail thumbnails thumb thumbs rough roughs layout layouts"),
  pencil: set("pencil pencils pencilled penciled"),
  final: set("final finals ink inks inked"),
};
const HIGHEST_PAGE = 9999;
const ENDING = /(?<=[^/])\.[^./]*$/;
// 2026-11-28, 20261128, 14.32.05, 1200x1800
const NO_PAGE = /(?<![0-9])(?:(?:19|20)[0-9]{2}([-_.]?)[01][0-9]\1[0-3][0-9]|[0-2][0-9]([.:])[0-5][0-9]\2[0-5][0-9]|[0-9]+ ?[x×] ?[0-9]+)(?![0-9])/g;
const COPY = /\([0-9]+\)$/;
const JOIN = /^ ?[-–_+&] ?$/;

/** @param {string[]} names @returns {PageName[]} names of one pattern are read side by side: the number that changes is the page's */
export function readNames(names) {
  const read = names.map(readOne);
  const alike = new Map();
  for (const one of read) alike.set(one.pattern, [...(alike.get(one.pattern) ?? []), one]);
  return read.map((one) => ({ ...meant(one, alike.get(one.pattern)), stages: one.stages, alternate: alternateIn(one), isPanel: one.tokens.some(({ text }) => PANEL_WORDS.has(text)) }));
}

/** Folders count for the stage only: pencils/03.png. */
function readOne(name) {
  const parts = name.normalize("NFKC").replaceAll("\\", "/").replace(ENDING, "").split("/");
  const tokens = tokensOf(parts.at(-1));
  const words = new Set(parts.flatMap((part) => tokensOf(part).map(({ text }) => text)));
  const stages = Object.entries(STAGE_WORDS).filter(([, ways]) => [...ways].some((way) => words.has(way))).map(([stage]) => stage);
  const candidates = candidatesIn(tokens);
  const pattern = [...tokens.map((token) => (isNumber(token) ? "#" : token.text)), ...candidates.keys()].join(" ");
  return { tokens, stages, candidates, pattern };
}

/** Words and numbers, without dates, times, sizes and the number of a copy. @param {string} stem @returns {Token[]} */
function tokensOf(stem) {
  const rest = stem.replace(NO_PAGE, " | ").replace(COPY, "");
  const tokens = [];
  let end = 0;
  for (const found of rest.matchAll(/[0-9]+|\p{L}+/gu)) {
    found[0].split(/(?<=[a-z])(?=[A-Z])/).forEach((word, i) => tokens.push({ gap: i ? "" : rest.slice(end, found.index), text: word.toLowerCase() }));
    end = found.index + found[0].length;
  }
  return tokens;
}

const isNumber = ({ text }) => /^[0-9]/.test(text);
/** It belongs to the word before it: p03, p.03, page #3. */
const isClose = ({ gap }) => gap.length <= 2 && gap.trim().length <= 1;

/** Place of their last token -> [n], or [n, n + 1]: those after a page word, or else all. @param {Token[]} tokens */
function candidatesIn(tokens) {
  const [marked, plain] = [new Map(), new Map()];
  for (let place = 0; place < tokens.length; ) {
    const { numbers, taken } = numbersAt(tokens, place);
    const isMarked = place > 0 && isClose(tokens[place]) && PAGE_WORDS.has(tokens[place - 1].text);
    if (numbers.length) (isMarked ? marked : plain).set(place + taken - 1, numbers);
    place += taken;
  }
  return marked.size ? marked : plain;
}

function numbersAt(tokens, place) {
  const first = pageNumber(tokens, place);
  if (first === null) return { numbers: [], taken: 1 };
  for (const ahead of [1, 2]) { // 04-05, and p04-p05
    const isJoined = place + ahead < tokens.length && JOIN.test(tokens[place + 1].gap);
    if (isJoined && (ahead === 1 || PAGE_WORDS.has(tokens[place + 1].text)) && pageNumber(tokens, place + ahead) === first + 1) return { numbers: [first, first + 1], taken: ahead + 1 };
  }
  return { numbers: [first], taken: 1 };
}

function pageNumber(tokens, place) {
  const token = tokens[place];
  const value = Number(token.text);
  if (!isNumber(token) || value < 1 || value > HIGHEST_PAGE) return null;
  const [before, after] = [tokens[place - 1]?.text ?? "", tokens[place + 1]];
  const isTry = before === "final" && !token.gap && !token.text.startsWith("0"); // final2
  const isMeasure = after && UNITS.has(after.text) && !/[^ -]/.test(after.gap);
  return isTry || isMeasure || (isClose(token) && OTHER_WORDS.has(before)) ? null : value;
}

function meant({ candidates }, alike) {
  const changing = [...candidates.keys()].filter((place) => new Set(alike.map((other) => String(other.candidates.get(place)))).size > 1);
  const places = changing.length === 1 ? changing : [...candidates.keys()];
  const ways = new Set(places.map((place) => String(candidates.get(place))));
  return { numbers: [...new Set(places.flatMap((place) => candidates.get(place)))], isSure: ways.size === 1 };
}

/** A letter right after the page's number (03b), or after the word for it (alt B). */
function alternateIn({ tokens, candidates }) {
  const place = tokens.findIndex(({ gap, text }, i) => i > 0 && /^[a-z]$/.test(text) && (ALTERNATE_WORDS.has(tokens[i - 1].text) || (!gap && candidates.has(i - 1))));
  return place < 0 ? null : tokens[place].text.toUpperCase();
}
