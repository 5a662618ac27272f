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

  /** The detail, and for each field what is the matter with it. */
  get words() {
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
  if (method !== "GET") headers["X-CSRFToken"] = csrfToken();
  if (method === "POST") headers["Idempotency-Key"] = key ?? newKey();
  if (version !== undefined) headers["If-Match"] = `"${version}"`;
  if (body !== undefined) headers["Content-Type"] = "application/json";
  return readAnswer(await send(url(path), { method, headers, body: body && JSON.stringify(body) }));
}

/** A small file with fields, as a form; what is empty is left out. */
export async function sendForm(method, path, fields) {
  const body = new FormData();
  for (const [name, value] of Object.entries(fields)) if (value !== "" && value != null) body.append(name, value);
  return readAnswer(await send(url(path), { method, headers: { Accept: "application/json", "X-CSRFToken": csrfToken() }, body }));
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
  try {
    return await fetch(address, { credentials: "same-origin", ...options });
  } catch {
    throw new Problem({ detail: "The server cannot be reached. Your words are kept here; try again in a moment." }, 0);
  }
}

async function readAnswer(response) {
  const text = await response.text();
  const document = readJson(text);
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
