/** What hangs on the days of a class, each day as forms write it: "2026-12-14". */

/** @param {{ends_on?: string, kept_days?: number|string}} one */
function keptUntil({ ends_on, kept_days }) {
  if (!ends_on) return "";
  const day = new Date(`${ends_on}T00:00Z`);
  day.setUTCDate(day.getUTCDate() + Number(kept_days));
  return day.toISOString().slice(0, 10);
}

/**
 * What comes to lie before today when a class is changed so; empty where nothing does that did not before.
 * @param {any} before {} for a new class @param {any} after @param {string} today
 */
export function whatEnds(before, after, today) {
  const isNew = (day) => day(after) < today && !(day(before) && day(before) < today);
  if (isNew(keptUntil)) return `It is kept until ${dayWords(keptUntil(after))}, which is past: what its students made is listed for deletion at once.`;
  if (isNew(({ ends_on }) => ends_on)) return `Its last day, ${dayWords(after.ends_on)}, is past: it takes no upload, no hand-in and no assignment any more.`;
  return "";
}

/** Behind the last day of the class. @param {string} time from an input of type datetime-local @param {string} ends_on */
export const isBehind = (time, ends_on) => time.slice(0, 10) > ends_on;

/** @param {string} day */
export const dayWords = (day) => new Intl.DateTimeFormat(undefined, { dateStyle: "long", timeZone: "UTC" }).format(new Date(`${day}T00:00Z`));
