/** Times as forms write them (local, without a zone) and as the server has them. */

/** @param {string|Date} time @returns {string} for an input of type datetime-local */
export function localTime(time) {
  const date = new Date(time);
  return new Date(date.getTime() - date.getTimezoneOffset() * 60_000).toISOString().slice(0, 16);
}

/** @param {string} text from such an input */
export const isoTime = (text) => new Date(text).toISOString();

/** @param {number} days from today, at six in the evening */
export function inDays(days) {
  const date = new Date();
  date.setDate(date.getDate() + days);
  date.setHours(18, 0, 0, 0);
  return localTime(date);
}

/** @param {number} minutes */
export function spell(minutes) {
  if (minutes < 60) return `${minutes} min`;
  if (minutes < 60 * 48) return `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
  return `${Math.round(minutes / 1440)} days`;
}
