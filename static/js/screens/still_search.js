import { readStillSearch, searchStill } from "../api/panels.js";
import { button, h, swap } from "../elements/h.js";
import { attempt } from "../elements/slips.js";

const AGAIN_MS = 500;

/** A button that lets a worker look for where the still lies. @param {(found: {in_still: any, on_page: any}) => void} onFound */
export function findStill(row, revision, dialog, onFound) {
  const status = h("span", { class: "small", role: "status" });
  const find = button("Find it", async () => {
    find.disabled = true;
    swap(status, "Looking for it …");
    let found = await attempt(() => searchStill(row, revision));
    while (["queued", "running"].includes(found?.state) && dialog.open) {
      await new Promise((resolve) => setTimeout(resolve, AGAIN_MS));
      found = await attempt(() => readStillSearch(row, revision));
    }
    find.disabled = false;
    swap(status, found?.reason || "");
    if (found?.state === "done") onFound(found);
  }, { "data-key": "find-still" });
  return h("span", { class: "find-still" }, find, status);
}
