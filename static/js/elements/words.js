/** How things are said: times, counts, figures. */

const TIME = new Intl.DateTimeFormat(undefined, { day: "numeric", month: "short", hour: "2-digit", minute: "2-digit" });

/** @param {string|null} iso */
export const when = (iso) => (iso ? TIME.format(new Date(iso)) : "");

const WHOLE = new Intl.NumberFormat("en");

export const count = (n, one, many = `${one}s`) => `${WHOLE.format(n)} ${n === 1 ? one : many}`;

export const nameOf = (user) => user?.name || user?.username || "someone who left";

const UNITS = { deg: "°", "°": "°", percent: " %", "%": " %", mm: " mm", dpi: " dpi", px: " px", heads: " heads" };

/** A number with its unit, as short as it stays true: 6.2°, 143 dpi. */
export function figure(value, unit) {
  const size = Math.abs(value);
  const digits = size >= 100 || Number.isInteger(value) ? 0 : size >= 1 ? 1 : 2;
  const after = UNITS[unit] ?? (unit ? ` ${unit}` : "");
  return value.toFixed(digits) + after;
}

export function sureness(confidence) {
  if (confidence >= 0.9) return "very sure";
  if (confidence >= 0.7) return "fairly sure";
  return "in doubt";
}

export const TREND = { new: "new on this revision", better: "better than before", same: "the same as before", worse: "worse than before" };
export const WAITS = { artist: "waits for the artist", reviewer: "waits for a reviewer", nobody: "finished" };
export const STAGES = ["thumbnail", "pencil", "final"];
/** A note that waits for nobody any more. */
/** @param {{file_name: string, reason: string}} refused as a page tells it to who draws it */
export const unopenedWords = ({ file_name: name, reason }) => `The last upload${name && `, ${name},`} could not be opened: ${reason}`;

export const isClosed = (note) => ["settled", "stet", "gone"].includes(note.state);
export const STATE_WORDS = { held: "held", open: "open", answered: "answered", settled: "settled", stet: "stet", gone: "gone" };
