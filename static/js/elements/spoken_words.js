/** What is said in a panel, line by line, and how many words are read there: the twin of `board/spoken_words.py`. */

const LONGEST_NAME = 40;
const SPEECH = /^([^:：]+)[:：]\s*(.*)$/su;
const ASIDES = /\([^)]*\)/gu;
const WORD = /[\p{L}\p{N}_]+(?:['’\-‐‑][\p{L}\p{N}_]+)*/gu;

/**
 * @typedef {{who: string, speaker: string, words: string}} SpokenLine `who` as it stands, `speaker` without asides; empty where the
 *   line names nobody
 * @param {string} said @returns {SpokenLine[]} bare lines are left out
 */
export const spokenLines = (said) => said.split(/\r\n|[\n\r]/u).map((line) => line.trim()).filter(Boolean).map(lineOf);

function lineOf(line) {
  const [, who, words] = SPEECH.exec(line) ?? [];
  return who && isSpeaker(who) ? { who: who.trim(), speaker: who.replace(ASIDES, "").trim(), words: words.trim() } : { who: "", speaker: "", words: line };
}

/** In capitals, but for what stands in brackets; and no sentence. */
export function isSpeaker(words) {
  const name = words.replace(ASIDES, "").trim();
  return /\p{L}/u.test(name) && !/\p{Ll}/u.test(name) && [...name].length <= LONGEST_NAME && !/[.!?…,;]$/u.test(name);
}

/** @param {string} text */
export const countWords = (text) => text.match(WORD)?.length ?? 0;

/** Who speaks is not lettered. @param {string} said */
export const wordsSaid = (said) => spokenLines(said).reduce((sum, { words }) => sum + countWords(words), 0);
