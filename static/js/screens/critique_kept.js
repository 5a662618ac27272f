import { readCritique, writePoints } from "../api/assignments.js";
import { Problem } from "../api/http.js";
import { dropDraft, keepDraft, readDraft } from "../elements/drafts.js";
import { say, sayProblem } from "../elements/slips.js";
import { areSame, together, wordsApart } from "./critique_merge.js";

const SAVE_AFTER_MS = 700;
const TRY_AGAIN_AFTER_MS = 5000;

/**
 * Keeps a critique as it is written: in this browser at once, and on the server a moment after the last change. Without a line it is
 * tried again until it is there. What another window wrote meanwhile is taken in first.
 * @param {{one: any, points: any[], apart?: any[]}} known `apart`: what was written here and is no part of what was sent or delivered
 * @param {string} key of its draft
 * @param {{kept: () => void, notYet: () => void, came: () => void}} told `came`: points were taken in, or it is not to be written any more
 */
export function keeper(known, key, { kept, notYet, came }) {
  const at = { before: known.one.points, sent: /** @type {any[]|null} */ (null), isUnsaved: false, timer: 0, last: Promise.resolve(true), slip: /** @type {Element|null} */ (null), said: "" };
  const isOpen = () => !known.one.is_sent && !known.one.delivered_at;
  const keepHere = () => keepDraft(key, { points: known.points, before: at.before, sent: at.sent });

  /** What came to the server from elsewhere; what was sent from here and never answered is no news. */
  function takeIn(one) {
    if (one.is_sent || one.delivered_at) return close(one);
    const isOurs = at.sent !== null && areSame(one.points, at.sent);
    const both = together(isOurs ? one.points : at.before, known.points, one.points);
    at.before = one.points;
    known.one = one;
    known.points = both.points;
    if (both.came === 0) return;
    say("What you wrote in another window stands here too.");
    came();
  }

  /** It was sent or delivered meanwhile: what stands there is what is read. What did not get there stays in this browser, and apart. */
  function close(one) {
    const apart = wordsApart(known.points, one.points);
    Object.assign(known, { one, points: one.points, apart });
    at.isUnsaved = false;
    clearTimeout(at.timer);
    if (!apart.length) dropDraft(key);
    came();
  }

  /** It was sent, or taken back to be changed. */
  function arrived(one) {
    if (one.is_sent) return close(one);
    Object.assign(known, { one, points: one.points, apart: [] });
    Object.assign(at, { before: one.points, sent: null });
    takeUp();
  }

  function letGo() {
    dropDraft(key);
    known.apart = [];
  }

  async function saveOnce() {
    clearTimeout(at.timer);
    if (!at.isUnsaved) return true;
    try {
      takeIn(await readCritique(known.one.id));
      if (!isOpen()) return past() && false;
      at.sent = known.points.map((point) => ({ ...point }));
      keepHere();
      const answer = await writePoints(known.one.id, at.sent);
      at.isUnsaved = !areSame(known.points, at.sent);
      Object.assign(at, { before: answer.points, sent: null });
      known.one = answer;
      if (at.isUnsaved) keepHere();
      else dropDraft(key);
      kept();
      return past();
    } catch (error) {
      if (!(error instanceof Problem)) throw error;
      notYet();
      if (error.isUnanswered) at.timer = setTimeout(save, TRY_AGAIN_AFTER_MS);
      stands(error.status === 404 ? await ofAnother(error) : error);
      return false;
    }
  }

  /** Told once, for as long as it stands against it. */
  function stands(problem) {
    if (problem.words === at.said) return;
    at.slip?.remove();
    Object.assign(at, { slip: sayProblem(problem), said: problem.words });
  }

  function past() {
    at.slip?.remove();
    Object.assign(at, { slip: null, said: "" });
    return true;
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
    const draft = readDraft(key);
    if (!draft) return;
    Object.assign(at, { before: draft.before, sent: draft.sent });
    const { one } = known;
    Object.assign(known, { points: draft.points, apart: [] });
    takeIn(one);
    if (!isOpen()) return;
    if (areSame(known.points, one.points)) dropDraft(key);
    else changed();
  }

  addEventListener("online", () => at.isUnsaved && save());
  document.addEventListener("visibilitychange", () => at.isUnsaved && save());
  return { changed, save, takeUp, arrived, letGo };
}

/** What is not there for whoever is signed in now may be there for who wrote it. @param {Problem} problem @returns {Promise<Problem>} */
const ofAnother = (problem) => import("../api/signed_in_again.js").then(({ takeToken }) => takeToken()).then(() => problem, (other) => (other instanceof Problem ? other : problem));
