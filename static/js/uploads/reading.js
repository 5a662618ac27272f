import { readRevision } from "../api/pages.js";
import { untilOnlineOr } from "./queue.js";

const PAUSE_S = 1.5;

/**
 * Follows what was uploaded until a worker has read it, one asked at a time: first the ones that came first.
 *
 * @template {{answer?: {id: number}}} Sent
 */
export class Reading {
  /**
   * @param {{tell: (item: Sent, revision: {state: string, reason: string}) => void, read?: (id: number) => Promise<any>,
   *   pause?: (seconds: number) => Promise<void>}} how
   */
  constructor({ tell, read = readRevision, pause = untilOnlineOr }) {
    Object.assign(this, { tell, read, pause, unread: [], isAtIt: false });
  }

  /** @param {Sent} item @returns {Promise<void>} when nothing is left to follow */
  follow(item) {
    this.unread.push(item);
    if (!this.isAtIt) this.over = this.work();
    return this.over;
  }

  async work() {
    this.isAtIt = true;
    while (this.unread.length) {
      const item = this.unread.shift();
      const revision = await this.read(item.answer.id).catch((problem) => (problem.isUnanswered || problem.status === 429 ? null : { state: "gone" }));
      if (revision && revision.state !== "received") {
        this.tell(item, revision);
        continue;
      }
      this.unread.push(item);
      await this.pause(PAUSE_S);
    }
    this.isAtIt = false;
  }
}
