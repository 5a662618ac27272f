import { Problem, ROOT, csrfToken, newKey, readJson } from "./http.js";

/**
 * Sends one file. Sent again with the same key, it arrives once.
 * @param {string} path
 * @param {Record<string, string|Blob>} fields
 * @param {{onProgress?: (part: number) => void, key?: string, signal?: AbortSignal}} [options] `part` 0..1
 */
export function upload(path, fields, { onProgress, key = newKey(), signal } = {}) {
  const form = new FormData();
  for (const [name, value] of Object.entries(fields)) if (value !== "" && value != null) form.append(name, value);
  const request = new XMLHttpRequest();
  request.open("POST", ROOT + path);
  request.setRequestHeader("X-CSRFToken", csrfToken());
  request.setRequestHeader("Idempotency-Key", key);
  request.setRequestHeader("Accept", "application/json");
  request.upload.addEventListener("progress", (event) => event.lengthComputable && onProgress?.(event.loaded / event.total));
  signal?.addEventListener("abort", () => request.abort());
  return answerOf(request, form);
}

function answerOf(request, form) {
  return new Promise((resolve, reject) => {
    const refuse = (document, status) => reject(new Problem(document, status));
    request.addEventListener("load", () => {
      const document = readJson(request.responseText);
      if (request.status < 300) resolve(document);
      else refuse(document ?? { title: `The server answered ${request.status}.` }, request.status);
    });
    request.addEventListener("error", () => refuse({ detail: "The line broke. Send it again; it will arrive only once." }, 0));
    request.addEventListener("abort", () => refuse({ detail: "You stopped this upload." }, 0));
    request.send(form);
  });
}
