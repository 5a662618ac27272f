/** One way to the server: JSON in and out, problems as errors that say what to do. */

export const ROOT = "/api/v1";

/** What the server refused, in its own words (RFC 9457). */
export class Problem extends Error {
  constructor(document, status) {
    super(document.detail || document.title || "Something went wrong.");
    this.status = status;
    this.code = document.code;
    this.type = document.type;
    this.errors = document.errors ?? {};
  }

  get isSignedOut() {
    return this.status === 401;
  }

  /** Somebody signed in in this browser after the page was opened. */
  get isOfOldPage() {
    return this.type === "/problems/csrf-failed";
  }

  /** Nobody knows whether it was done: the answer may have been lost on its way. */
  get isUnanswered() {
    return this.status === 0 || this.status >= 500;
  }

  /** The detail, and for each field what is the matter with it. */
  get words() {
    if (this.isSignedOut) return "You are signed out in this browser. Sign in in another tab, then send it once more: what you wrote stays here.";
    const fields = Object.entries(this.errors).map(([field, texts]) => `${field}: ${[texts].flat().join(" ")}`);
    return [this.message, ...fields].join(" ");
  }
}

export const csrfToken = () => document.querySelector('meta[name="csrf-token"]')?.content ?? "";

export const newKey = () => crypto.randomUUID?.() ?? `${Date.now()}-${Math.random().toString(36).slice(2)}`;

/**
 * @param {string} method
 * @param {string} path below the root of the API, or a whole URL that the server gave
 * @param {{body?: object, version?: number, key?: string}} [options] `version` of what is changed, for If-Match
 */
export async function call(method, path, { body, version, key } = {}) {
  const carried = method === "GET" ? takeCarried(url(path)) : null;
  if (carried) return carried;
  const headers = { Accept: "application/json" };
  if (version !== undefined) headers["If-Match"] = `"${version}"`;
  if (body !== undefined) headers["Content-Type"] = "application/json";
  const options = { method, headers, body: body && JSON.stringify(body) };
  if (method === "GET") return send(url(path), options);
  const write = () => withToken((token) => send(url(path), { ...options, headers: { ...headers, "X-CSRFToken": token } }));
  if (method !== "POST") return write();
  const sending = `${path} ${options.body}`;
  headers["Idempotency-Key"] = key ?? unanswered.get(sending) ?? newKey();
  try {
    const answer = await write();
    unanswered.delete(sending);
    return answer;
  } catch (problem) {
    unanswered.set(sending, headers["Idempotency-Key"]);
    throw problem;
  }
}

/** The keys of what was sent without success: the same words sent once more go under the same key, and arrive once. */
const unanswered = new Map();

/** Where the page is older than a sign-in of the same person, once more with the token of that. @param {(token: string) => Promise<any>} write */
export async function withToken(write) {
  try {
    return await write(csrfToken());
  } catch (problem) {
    if (!problem.isOfOldPage) throw problem;
    await (await import("./signed_in_again.js")).takeToken();
    return write(csrfToken());
  }
}

/** A small file with fields, as a form; what is empty is left out. */
export async function sendForm(method, path, fields) {
  const body = new FormData();
  for (const [name, value] of Object.entries(fields)) if (value !== "" && value != null) body.append(name, value);
  return withToken((token) => send(url(path), { method, headers: { Accept: "application/json", "X-CSRFToken": token }, body }));
}

const url = (path) => (path.startsWith("/api/") || path.startsWith("http") ? path : ROOT + path);

/** An answer that the page carries itself, for the first who asks; a page that was come back to may be an old one. */
function takeCarried(address) {
  const block = [...(globalThis.document?.scripts ?? [])].find((one) => one.dataset.answer === address);
  block?.remove();
  const isOld = performance.getEntriesByType("navigation")[0]?.type === "back_forward";
  return block && !isOld ? readJson(block.textContent) : null;
}

async function send(address, options) {
  let response;
  let document;
  try {
    response = await fetch(address, { credentials: "same-origin", ...options });
    // The line may break in the middle of the answer too.
    document = readJson(await response.text());
  } catch {
    throw new Problem({ detail: "The server cannot be reached. Your words are kept here; try again in a moment." }, 0);
  }
  if (response.ok) return document;
  throw new Problem(document ?? { title: `The server answered ${response.status}.` }, response.status);
}

/** @param {string} text @returns {any} null where it is no JSON */
export function readJson(text) {
  try {
    return text ? JSON.parse(text) : null;
  } catch {
    return null;
  }
}

/** All rows of a paged collection. */
export async function all(path) {
  const rows = [];
  let next = `${path}${path.includes("?") ? "&" : "?"}limit=500`;
  while (next) {
    const part = await call("GET", next);
    rows.push(...part.results);
    next = part.next && new URL(part.next, location.origin).pathname + new URL(part.next, location.origin).search;
  }
  return rows;
}
