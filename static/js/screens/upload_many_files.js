import { naturally } from "../uploads/file_names.js";
import { inTurn, lookAtFile, matchByLikeness } from "../uploads/glances.js";
import { matchByName, withNewPages } from "../uploads/matching.js";

const LOOKED_AT_ONCE = 2;

/**
 * Files in natural order, each with the page it is likely for and why.
 * @param {File[]} files @param {{file: File}[]} before those in the table already
 * @returns {Promise<{file: File, match: import("../uploads/matching.js").Match, canvas: HTMLCanvasElement|null}[]>}
 */
export async function chosenFiles(files, before, { pages, may }) {
  const isThere = (file) => before.some((row) => row.file.name === file.name && row.file.size === file.size && row.file.lastModified === file.lastModified);
  const fresh = files.filter((file) => !isThere(file)).sort((a, b) => naturally(a.name, b.name));
  const looks = await inTurn(fresh, lookAtFile, LOOKED_AT_ONCE);
  const named = matchByName(await Promise.all(fresh.map(async (file) => ({ name: file.name, sha256: await digestIfKnown(file, pages) }))), pages);
  const matched = await matchByLikeness(named, looks.map((look) => look?.glance ?? null), pages);
  const all = may.add_pages ? withNewPages(matched, pages) : matched;
  return fresh.map((file, i) => ({ file, match: all[i], canvas: looks[i]?.canvas ?? null }));
}

/** Hashed only where some page's picture is as many bytes long: then it may be that very file. */
async function digestIfKnown(file, pages) {
  if (!crypto.subtle || !pages.some((page) => page.current_revision?.size_bytes === file.size)) return "";
  const digest = await crypto.subtle.digest("SHA-256", await file.arrayBuffer());
  return [...new Uint8Array(digest)].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}
