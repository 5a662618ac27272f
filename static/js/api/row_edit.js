import { Problem } from "./http.js";

/** While others go on writing in the same row without touching the same fields, a change is sent this often. */
const MOST_TRIES = 5;

/**
 * Fields of one row, changed by somebody while others may change it too. Only what was changed is sent, for the version that was read; of
 * what others changed meanwhile, only a field that both set, and not alike, is a conflict.
 *
 * @typedef {Record<string, any>} Fields  name -> value
 */
export class RowEdit {
  /**
   * @param {any} row as it was opened
   * @param {{send: (row: any, changed: Fields) => Promise<any>, read: (row: any) => Promise<any>, fieldsOf: (row: any) => Fields}} how
   *   `send` and `read` answer with the newest row, `fieldsOf` has of a row what may be changed here
   */
  constructor(row, { send, read, fieldsOf }) {
    Object.assign(this, { row, send, read, fieldsOf });
  }

  /** @param {Fields} fields @returns {Fields} those that are not as in the row */
  changed(fields) {
    const here = this.fieldsOf(this.row);
    return picked(fields, (name) => !isSame(fields[name], here[name]));
  }

  /**
   * Sends what was changed. Where there is a conflict nothing was kept, and `row` is the newest: what is kept next takes its place.
   * @param {Fields} fields
   * @returns {Promise<{conflicts: Fields, taken: Fields}>} of the others: what stands against a change, and what was not changed here
   * @throws {Problem}
   */
  async keep(fields) {
    let mine = this.changed(fields);
    const others = Object.keys(fields).filter((name) => !(name in mine));
    for (let tries = 1; Object.keys(mine).length; tries++) {
      try {
        this.row = await this.send(this.row, mine);
        break;
      } catch (problem) {
        if (!(problem instanceof Problem) || problem.status !== 412 || tries === MOST_TRIES) throw problem;
      }
      const before = this.fieldsOf(this.row);
      this.row = await this.read(this.row);
      const now = this.fieldsOf(this.row);
      mine = this.changed(mine); // what somebody wrote alike is there
      const conflicts = picked(now, (name) => name in mine && !isSame(now[name], before[name]));
      if (Object.keys(conflicts).length) return { conflicts, taken: picked(now, (name) => others.includes(name)) };
    }
    return { conflicts: {}, taken: {} };
  }
}

const picked = (fields, isWanted) => Object.fromEntries(Object.entries(fields).filter(([name]) => isWanted(name)));

/** The server keeps no space around words, and a text field has one kind of line break. */
const isSame = (a, b) => plain(a) === plain(b);
const plain = (value) => (typeof value === "string" ? value.replace(/\r\n?/g, "\n").trim() : value);
