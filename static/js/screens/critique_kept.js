import { readCritique, writePoints } from "../api/assignments.js";
import { Problem } from "../api/http.js";
import { dropDraft, keepDraft, readDraft } from "../elements/drafts.js";
import { say, sayProblem } from "../elements/slips.js";
import { areSame, together } from "./critique_merge.js";

const SAVE_AFTER_MS = 700;
const TRY_AGAIN_AFTER_MS = 5000;

/**
 * Keeps a critique as it is written: in this browser at once, and on the server a moment after the last change. Without a line it is
 * tried again until it is there. What another window wrote meanwhile is taken in first.
 * @param {{one: any, points: any[]}} known
 * @param {string} key of its draft
 * @param {{kept: () => void, notYet: () => void, came: () => void}} told `came`: points were taken in, or it is not to be written any more
 */
export function keeper(known, key, { kept, notYet, came }) {
  const at = { before: known.one.points, sent: /** @type {any[]|null} */ (null), isUnsaved: false, hasFailed: false, timer: 0, last: Promise.resolve(true) };
  const isOpen = () => !known.one.is_sent && !known.one.delivered_at;
  const keepHere = () => keepDraft(key, { points: known.points, before: at.before, sent: at.sent });

  /** What came to the server from elsewhere; what was sent from here and never answered is no news. */
  function takeIn(one) {
    const isOurs = at.sent !== null && areSame(one.points, at.sent);
    const both = together(isOurs ? one.points : at.before, known.points, one.points);
    at.before = one.points;
    known.one = one;
    known.points = both.points;
    if (both.came > 0) say("What you wrote in another window stands here too.");
    if (both.came > 0 || !isOpen()) came();
  }

  async function saveOnce() {
    clearTimeout(at.timer);
    if (!at.isUnsaved) return true;
    try {
      takeIn(await readCritique(known.one.id));
      at.sent = known.points.map((point) => ({ ...point }));
      keepHere();
      const answer = await writePoints(known.one.id, at.sent);
      at.isUnsaved = !areSame(known.points, at.sent);
      Object.assign(at, { before: answer.points, sent: null, hasFailed: false });
      known.one = answer;
      if (at.isUnsaved) keepHere();
      else dropDraft(key);
      kept();
      return true;
    } catch (error) {
      if (!(error instanceof Problem)) throw error;
      notYet();
      if (error.isUnanswered) at.timer = setTimeout(save, TRY_AGAIN_AFTER_MS);
      if (!at.hasFailed) sayProblem(error);
      at.hasFailed = true;
      return false;
    }
  }

  /** One after the other: what is written last arrives last. @returns {Promise<boolean>} whether it is on the server */
  function save() {
    at.last = at.last.then(saveOnce, saveOnce);
    return at.last;
  }

  function changed() {
    at.isUnsaved = true;
    keepHere();
    clearTimeout(at.timer);
    at.timer = setTimeout(save, SAVE_AFTER_MS);
  }

  /** What was typed here before and did not arrive. */
  function takeUp() {
    const draft = isOpen() ? readDraft(key) : null;
    if (!draft) return;
    Object.assign(at, { before: draft.before, sent: draft.sent });
    const { one } = known;
    known.points = draft.points;
    takeIn(one);
    if (areSame(known.points, one.points)) dropDraft(key);
    else changed();
  }

  addEventListener("online", () => at.isUnsaved && save());
  document.addEventListener("visibilitychange", () => at.isUnsaved && save());
  return { changed, save, takeUp };
}
