import assert from "node:assert/strict";
import { test } from "node:test";
import { whereOf } from "../../static/js/elements/note_face.js";
import { isOfPicture, notesListed } from "../../static/js/screens/desk_facts.js";

const note = (more) => ({ id: 1, panel_order: 3, scope: "region", source: "person", state: "open", revision: 5, astray: null, ...more });
const onOther = { why: "picture", revision: 2, alternate: "B" };
const desk = (revision, notes = []) => ({ revision: { id: revision }, page: { current_revision: { id: 7 } }, notes, showsClosed: false, note: null });

test("a note names its panel, and where it went astray the picture that it lies on or that its panel is not here", () => {
  assert.equal(whereOf(note({})), "panel 3");
  assert.equal(whereOf(note({ astray: onOther })), "on alternate B, revision 2");
  assert.equal(whereOf(note({ astray: { ...onOther, alternate: null } })), "on revision 2");
  assert.equal(whereOf(note({ astray: { ...onOther, alternate: null, is_withdrawn: true } })), "on revision 2, withdrawn");
  assert.equal(whereOf(note({ astray: { ...onOther, why: "panel" } })), "its panel is not on this picture");
});

test("a note is counted in a panel of the picture that it lies on", () => {
  const [here, there] = [note({}), note({ astray: onOther })];
  assert.deepEqual([here, there].map((one) => isOfPicture(one, desk(7))), [true, false]);
  assert.deepEqual([here, there].map((one) => isOfPicture(one, desk(5))), [true, true]);
  assert.equal(isOfPicture(note({ revision: 4 }), desk(5)), false);
});

test("notes that lie on another picture are read last", () => {
  const notes = [note({ id: 1, panel_order: 1, astray: onOther }), note({ id: 2 }), note({ id: 3, panel_order: null, scope: "page" })];
  assert.deepEqual(notesListed(desk(7, notes)).map(({ id }) => id), [3, 2, 1]);
});
