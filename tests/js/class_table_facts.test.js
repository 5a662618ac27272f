import assert from "node:assert/strict";
import { test } from "node:test";
import { sorted, total } from "../../static/js/screens/class_table_facts.js";
import { spell } from "../../static/js/elements/time_fields.js";

const COLUMNS = [{ key: "student", by: (row) => row.student.toLowerCase() }, { key: "notes", by: (row) => row.notes }];
const rows = [{ student: "Sedge", notes: 10 }, { student: "brindle", notes: 2 }, { student: "Teasel", notes: 2 }];
const names = (sort) => sorted(rows, COLUMNS, sort).map((row) => row.student);

test("rows stand by one column, and who is equal by name, up or down", () => {
  assert.deepEqual(names({ by: "student", down: false }), ["brindle", "Sedge", "Teasel"]);
  assert.deepEqual(names({ by: "student", down: true }), ["Teasel", "Sedge", "brindle"]);
  assert.deepEqual(names({ by: "notes", down: true }), ["Sedge", "brindle", "Teasel"]);
  assert.deepEqual(names({ by: "notes", down: false }), ["brindle", "Teasel", "Sedge"]);
});

test("a column that another assignment does not have sorts by name", () => {
  assert.deepEqual(names({ by: "criterion-7", down: false }), ["brindle", "Sedge", "Teasel"]);
});

test("the rows that came are left as they are", () => {
  names({ by: "notes", down: true });
  assert.equal(rows[0].student, "Sedge");
});

test("findings of all kinds are counted together", () => {
  assert.equal(total({ findings: { "stray-edge": 2, "upright-lean": 1 } }), 3);
  assert.equal(total({ findings: {} }), 0);
});

test("minutes are said as one would", () => {
  assert.deepEqual([0, 59, 60, 95, 2879, 2880].map(spell), ["0 min", "59 min", "1 h 0 min", "1 h 35 min", "47 h 59 min", "2 days"]);
});
