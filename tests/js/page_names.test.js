import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { naturally } from "../../static/js/uploads/file_names.js";
import { readNames } from "../../static/js/uploads/page_names.js";

const table = JSON.parse(readFileSync(new URL("../vectors/page_names.json", import.meta.url)));

/** The page that is meant, or why none is, by the rules that board/page_names.py states. */
function matchOf(said, name, earlier) {
  if (said.isPanel) return { reason: "panel" };
  if (said.stages.length > 1) return { reason: "two-stages" };
  const rest = { stage: said.stages[0], alternate: said.alternate ?? undefined };
  if (said.isSure) {
    const page = Object.keys(table.pages).find((id) => said.numbers.every((number) => table.pages[id].includes(number)));
    return page ? { page: Number(page), ...rest } : { reason: said.numbers.length > 1 ? "no-such-spread" : "no-such-page", ...rest };
  }
  if (earlier?.[name] in table.pages) return { page: earlier[name], ...rest };
  return { reason: said.numbers.length ? "several-numbers" : "no-number", ...rest };
}

for (const { name: what, names, matches, earlier } of table.cases)
  test(`names: ${what}`, () => {
    readNames(names).forEach((said, i) => {
      const [got, wanted] = [matchOf(said, names[i], earlier), matches[i]];
      for (const member of ["page", "reason", "stage", "alternate"]) assert.equal(got[member] ?? null, wanted[member] ?? null, `${names[i]}: ${member}`);
      if (wanted.numbers) assert.deepEqual(said.numbers, wanted.numbers, names[i]);
    });
  });

test("names sort as people count", () => {
  for (const names of table.sorted) assert.deepEqual([...names].reverse().sort(naturally), names);
});
