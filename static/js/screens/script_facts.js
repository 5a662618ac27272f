/** Questions about a comic's script; no element is touched here. */
import { countWords, isSpeaker, spokenLines, wordsSaid } from "../elements/spoken_words.js";

/**
 * @typedef {{id: number, happens: string, said: string}} Words of a page or a panel
 * @typedef {{find: string, who: string}} Wish words to find, and who speaks; empty for all
 */

/** Of a list of panels: page id -> its own. A long comic asks for each page's many times. @type {WeakMap<any[], Map<number, any[]>>} */
const grouped = new WeakMap();

/** Panels that are read: those that the page's newest picture has or that are not drawn yet, then what it has no more but for its words. */
export function panelsOf(page, panels) {
  const byPage = grouped.get(panels) ?? new Map();
  if (!grouped.has(panels)) {
    grouped.set(panels, byPage);
    const read = [...panels.filter((one) => !one.is_gone), ...panels.filter((one) => one.is_gone && (one.happens || one.said))];
    for (const one of read) byPage.set(one.page, [...(byPage.get(one.page) ?? []), one]);
  }
  return byPage.get(page.id) ?? [];
}

/** @param {Words} part @param {Wish} wish */
export function fits({ happens, said }, { find, who }) {
  const lines = spokenLines(said);
  if (who && !lines.some(({ speaker }) => speaker === who)) return false;
  return !find.trim() || folded(`${happens}\n${said}`).includes(folded(find.trim()));
}

const folded = (text) => text.normalize("NFC").toLocaleLowerCase();

/** A text in parts, those that are looked for apart from the rest. @param {string} text @param {string} find */
export function foundIn(text, find) {
  const wanted = find.trim();
  if (!wanted) return [{ text, isFound: false }];
  const parts = text.split(new RegExp(`(${wanted.replace(/[\\^$.*+?()[\]{}|/]/gu, "\\$&")})`, "giu"));
  return parts.map((part, i) => ({ text: part, isFound: i % 2 === 1 })).filter((part) => part.text);
}

/** Who speaks, the one with the most words first. @param {Words[]} parts */
export function speakers(parts) {
  const counts = new Map();
  for (const { speaker, words } of parts.flatMap(({ said }) => spokenLines(said))) {
    if (!speaker) continue;
    const { lines, words: before } = counts.get(speaker) ?? { lines: 0, words: 0 };
    counts.set(speaker, { lines: lines + 1, words: before + countWords(words) });
  }
  return [...counts].map(([who, counted]) => ({ who, ...counted })).sort((a, b) => b.words - a.words || (a.who < b.who ? -1 : 1));
}

/** Names over a line, right below another one: a script that was read leaves them in what happens. @param {Words[]} parts */
export const namesInWhatHappens = (parts) => [...new Set(parts.flatMap(({ happens }) => happens.split("\n").slice(1, -1).filter(isSpeaker)))];

/** @param {Words[]} parts */
export const wordsIn = (parts) => parts.reduce((sum, { said }) => sum + wordsSaid(said), 0);

/** @param {string} search @returns {Wish} */
export function wishIn(search) {
  const given = new URLSearchParams(search);
  return { find: given.get("find") ?? "", who: given.get("who") ?? "" };
}

/** @param {Wish} wish */
export function wishAsSearch(wish) {
  const said = new URLSearchParams(Object.entries(wish).filter(([, value]) => value));
  return said.size ? `?${said}` : "";
}
