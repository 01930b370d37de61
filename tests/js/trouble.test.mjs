import assert from "node:assert/strict";
import { test } from "node:test";
import { JS } from "./here.mjs";

const { clashed, outsideWords } = await import(`${JS}trouble.js`);

const edit = name => ({ what: `${name} moved`, changes: [{ action: "set", kind: "lamps", name, values: {} }] });

test("a second clash joins the first; neither edit is lost", () => {
  const one = clashed(null, edit("stern"), ["stern"]), both = clashed(one, edit("bow"), ["bow"]);
  assert.deepEqual(one, { ...edit("stern"), items: ["stern"] });
  assert.deepEqual(both.changes.map(change => change.name), ["stern", "bow"]);
  assert.deepEqual(both.items, ["stern", "bow"]);
  assert.equal(both.what, "stern moved; bow moved");
  assert.deepEqual(clashed(one, edit("stern"), ["stern"]).items, ["stern"]);
});

test("a plan that vanished reads otherwise than one that is broken", () => {
  assert.match(outsideWords([{ found: "no such file" }])[0], /not in its folder/);
  assert.match(outsideWords([{ found: "'rad'" }])[0], /cannot be read/);
});
