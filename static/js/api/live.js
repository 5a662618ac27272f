import { ROOT, call } from "./http.js";

/**
 * Follows a board's event log. A browser opens only six connections to a host, so all tabs of a board share one stream: the tab that
 * holds the lock opens it and tells the others. Hidden tabs give it up.
 *
 * @param {number} board
 * @param {number} after number of the last event that is known
 * @param {(change: {number: number, kind: string, page: number|null, data: object}) => void} onChange
 * @returns {() => void} stops following
 */
export function followBoard(board, after, onChange) {
  const name = `underblue-board-${board}`;
  const channel = new BroadcastChannel(name);
  const place = { last: after };
  const take = (change) => {
    if (change.number <= place.last) return;
    place.last = change.number;
    onChange(change);
  };
  channel.onmessage = ({ data }) => take(data);
  const pass = (change) => {
    channel.postMessage(change);
    take(change);
  };
  let release = null;
  // What happened while no tab listened, or before this one did. Gives back what stands against it.
  const catchUp = () =>
    call("GET", `/boards/${board}/events?after=${place.last}`).then(({ results }) => results.forEach(take), (problem) => problem);
  /** A stream does not tell why it was refused; the log does. Who has no seat any more is not let in by asking on. */
  const onRefused = async () => {
    const problem = await catchUp();
    if (![401, 403, 404].includes(problem?.status)) return;
    if (problem.status !== 401) release?.();
    (await import("../elements/not_followed.js")).tellNotFollowed(problem);
  };
  const lead = () => {
    catchUp();
    release = whileLeading(name, () => openStream(board, place, pass, onRefused));
  };
  const onVisibility = () => {
    release?.();
    release = null;
    if (!document.hidden) lead();
  };
  document.addEventListener("visibilitychange", onVisibility);
  onVisibility();
  return () => {
    document.removeEventListener("visibilitychange", onVisibility);
    release?.();
    channel.close();
  };
}

/** Waits for the lock, runs `start`, and holds on until the returned function is called. */
function whileLeading(name, start) {
  const waiting = new AbortController();
  let finish;
  const done = new Promise((resolve) => {
    finish = resolve;
  });
  const held = async () => {
    const stop = start();
    await done;
    stop();
  };
  if (navigator.locks) navigator.locks.request(name, { signal: waiting.signal }, held).catch(() => {});
  else held();
  return () => {
    waiting.abort();
    finish();
  };
}

/** The browser reconnects by itself and sends Last-Event-ID; after a stream that was refused we try again ourselves. */
function openStream(board, place, pass, onRefused) {
  let source;
  let again;
  const open = () => {
    source = new EventSource(`${ROOT}/boards/${board}/events?after=${place.last}`);
    source.addEventListener("change", (event) => pass(JSON.parse(event.data)));
    source.onerror = () => {
      if (source.readyState !== EventSource.CLOSED) return;
      again = setTimeout(open, 5000);
      onRefused();
    };
  };
  open();
  return () => {
    clearTimeout(again);
    source.close();
  };
}
