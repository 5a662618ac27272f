/**
 * Sends many files, a few at a time. What breaks is sent again by itself, and after that at a push; what is refused is told and left.
 *
 * @typedef {{id: number, lane: string|number, state?: "waiting"|"sending"|"again"|"sent"|"broken"|"refused"|"stopped", part?: number,
 *   tries?: number, words?: string}} Sending  of one lane, one after the other and in order
 */
const AT_ONCE = 2;
const PAUSES_S = [1, 2, 4, 8, 15];
// The line, a server that restarts or has no room, too many at once, a first try that is still at work, another's change: these pass.
const PASSING = new Set([0, 408, 425, 429, 500, 502, 503, 504, 507]);
const PASSING_TYPES = new Set(["/problems/still-at-work", "/problems/met-another-change"]);
const passes = ({ status, type }) => PASSING.has(status) || PASSING_TYPES.has(type);

export class UploadQueue {
  /**
   * @param {{send: (item: any, onPart: (part: number) => void, signal: AbortSignal) => Promise<any>, tell: (item: Sending) => void,
   *   pause?: (seconds: number) => Promise<void>}} how
   */
  constructor({ send, tell, pause = untilOnlineOr }) {
    Object.assign(this, { send, tell, pause, items: [], stopping: new AbortController() });
  }

  /** @param {Sending[]} items @returns {Promise<void>} when nothing is left to do */
  async run(items) {
    this.items = items;
    for (const item of items) if (item.state !== "sent") this.change(item, { state: "waiting", part: 0, words: "" });
    await Promise.all(Array.from({ length: AT_ONCE }, () => this.work()));
  }

  /** Sends again what did not arrive. */
  again() {
    this.stopping = new AbortController();
    return this.run(this.items);
  }

  stop() {
    this.stopping.abort();
  }

  async work() {
    for (let item = this.next(); item; item = this.next()) await this.deliver(item);
  }

  next() {
    const busy = new Set(this.items.filter(({ state }) => state === "sending" || state === "again").map(({ lane }) => lane));
    return this.items.find(({ state, lane }) => state === "waiting" && !busy.has(lane));
  }

  async deliver(item) {
    const { signal } = this.stopping;
    for (let tries = 0; !signal.aborted; tries++) {
      this.change(item, { state: "sending", tries });
      try {
        item.answer = await this.send(item, (part) => this.change(item, { part }), signal);
        return this.change(item, { state: "sent", part: 1 });
      } catch (problem) {
        if (signal.aborted) break;
        const words = problem.words ?? String(problem);
        if (!passes(problem)) return this.change(item, { state: "refused", words });
        if (tries >= PAUSES_S.length) return this.change(item, { state: "broken", words });
        this.change(item, { state: "again", part: 0, words });
        await this.pause(PAUSES_S[tries]);
      }
    }
    return this.change(item, { state: "stopped", part: 0, words: "" });
  }

  change(item, news) {
    Object.assign(item, news);
    this.tell(item);
  }
}

/** Waits, but no longer than until the line is there again. */
export function untilOnlineOr(seconds) {
  return new Promise((resolve) => {
    const on = () => {
      clearTimeout(timer);
      removeEventListener("online", on);
      resolve();
    };
    const timer = setTimeout(on, seconds * 1000);
    addEventListener("online", on);
  });
}
