import { spell } from "../elements/time_fields.js";
import { count, when } from "../elements/words.js";

const MINUTE_MS = 60_000;

/**
 * Until when a stage is handed in, and once that is past, whether it is still taken.
 * @param {{due_at: string, taken_until: string|null, is_extended: boolean, handed_in: any, refusal: {code: string}|null}} one
 * @param {number} graceMinutes @param {Date} now
 */
export function dueWords(one, graceMinutes, now) {
  const due = `due ${when(one.due_at)}${one.is_extended ? " (more time given)" : ""}`;
  return isPast(one, now) ? `${due}, ${ago(now.getTime() - new Date(one.due_at).getTime())} ago; ${taken(one, graceMinutes, now)}` : due;
}

/** Whether it is waited for, and too late to be in time. */
export function isPast({ due_at, handed_in, refusal }, now) {
  return !handed_in && new Date(due_at) < now && !isOver(refusal);
}

/**
 * What stands against handing in, and that what was handed in is not the newest. Nothing where all is in, or may be handed in first.
 * @param {{handed_in: any, has_newer_pictures: boolean, refusal: {code: string, reason: string}|null}} one
 * @returns {string[]}
 */
export function handInWords({ handed_in, has_newer_pictures, refusal }) {
  const newer = has_newer_pictures && `What you drew since is not handed in${refusal ? "." : " yet."}`;
  // That a stage is over is no news to who handed all of it in.
  const tells = refusal && refusal.code !== "already-handed-in" && (!handed_in || newer || !isOver(refusal));
  return [newer, tells && refusal.reason].filter(Boolean);
}

/**
 * How many minutes late a hand-in would count now that takes the place of one in time; 0 where none does, or it would be in time too.
 * @param {number} graceMinutes @param {Date} now
 */
export function wouldBeLate({ due_at, handed_in }, graceMinutes, now) {
  const past = Math.ceil((now.getTime() - new Date(due_at).getTime()) / MINUTE_MS);
  return handed_in && !handed_in.minutes_late && past > graceMinutes ? past : 0;
}

const isOver = (refusal) => ["class-over", "further-on"].includes(refusal?.code ?? "");

const ago = (ms) => {
  const minutes = Math.max(1, Math.floor(ms / MINUTE_MS));
  return minutes < 60 ? count(minutes, "minute") : spell(minutes);
};

function taken({ due_at, taken_until }, graceMinutes, now) {
  const graceEnds = new Date(new Date(due_at).getTime() + graceMinutes * MINUTE_MS);
  if (now <= graceEnds) return `in time until ${when(graceEnds.toISOString())} all the same`;
  if (!taken_until) return "taken as late";
  return now <= new Date(taken_until) ? `taken as late until ${when(taken_until)}` : "no longer taken";
}
