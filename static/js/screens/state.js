/**
 * What a screen knows. Parts of the screen listen to the names they show; several changes in one turn are told once.
 * @template {Record<string, any>} T
 */
export class State {
  /** @param {T} known */
  constructor(known) {
    this.known = known;
    this.listeners = [];
    this.changed = new Set();
  }

  /** @param {(keyof T)[]} names @param {(known: T) => void} show called at once and after each change @returns {() => void} stops it */
  on(names, show) {
    const listener = { names, show };
    this.listeners.push(listener);
    show(this.known);
    return () => {
      this.listeners = this.listeners.filter((one) => one !== listener);
    };
  }

  /** @param {Partial<T>} changes */
  set(changes) {
    if (!this.changed.size) queueMicrotask(() => this.tell());
    for (const [name, value] of Object.entries(changes)) {
      this.known[name] = value;
      this.changed.add(name);
    }
  }

  tell() {
    const { changed } = this;
    this.changed = new Set();
    for (const { names, show } of this.listeners) if (names.some((name) => changed.has(name))) show(this.known);
  }
}
