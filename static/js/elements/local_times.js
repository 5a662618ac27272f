import { when } from "./words.js";

/** Times that the page came with, as they are where it is read. @param {ParentNode} [root] */
export function localTimes(root = document) {
  for (const time of root.querySelectorAll("time[datetime]")) time.textContent = when(time.getAttribute("datetime"));
}
