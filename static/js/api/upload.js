import { askBeforeLeaving } from "../elements/ask_before_leaving.js";
import { Problem, ROOT, readJson, withToken } from "./http.js";
import { hasArrived, keyOfSending, nameOfSending } from "./send_keys.js";

/**
 * Sends one file; while it is on its way the browser asks before it leaves. Until it has arrived it is sent under one key, so however often
 * the line breaks, it arrives once.
 * @param {string} path
 * @param {Record<string, string|Blob>} fields
 * @param {{onProgress?: (part: number) => void, signal?: AbortSignal}} [options] `part` 0..1
 */
export async function upload(path, fields, { onProgress, signal } = {}) {
  const sending = nameOfSending(path, fields);
  const form = new FormData();
  for (const [name, value] of Object.entries(fields)) if (value !== "" && value != null) form.append(name, value);
  const isPast = askBeforeLeaving(() => true);
  const answer = await withToken((token) => {
    const request = new XMLHttpRequest();
    request.open("POST", ROOT + path);
    request.setRequestHeader("X-CSRFToken", token);
    request.setRequestHeader("Idempotency-Key", keyOfSending(sending));
    request.setRequestHeader("Accept", "application/json");
    request.upload.addEventListener("progress", (event) => event.lengthComputable && onProgress?.(event.loaded / event.total));
    signal?.addEventListener("abort", () => request.abort());
    return answerOf(request, form);
  }).finally(isPast);
  hasArrived(sending);
  return answer;
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
