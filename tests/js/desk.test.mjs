import assert from "node:assert/strict";
import { test } from "node:test";
import { JS } from "./here.mjs";

const { Desk } = await import(`${JS}desk.js`);

const planOf = values => ({ states: [{ name: "moored" }], lamps: [], parts: [{ name: "hull", ...values }] });
const told = (revision, values) => ({ revision, plan: planOf(values), look: { lamps: [] }, steps: {}, pictures: [], outside: [] });

// A desk whose server answers when the test lets it.
function opened() {
  const asked = [];
  globalThis.fetch = (path, { body } = {}) => new Promise(answer => asked.push({
    path, body: body && JSON.parse(body),
    answer: (data, status = 200) => answer(new Response(JSON.stringify(data), { status, headers: { "content-type": "application/json" } })),
  }));
  const desk = new Desk("one");
  desk.take(told("r0", {}));
  return { desk, asked };
}

const set = (desk, values) => desk.change([{ action: "set", kind: "parts", name: "hull", values }], "faces another way");
const soon = () => new Promise(done => setTimeout(done));

test("an answer to an earlier change leaves a later one in sight", async () => {
  const { desk, asked } = opened();
  const first = set(desk, { faces: "up" }), second = set(desk, { top_edge: "port" });
  await soon();
  assert.equal(asked.length, 1);
  asked[0].answer(told("r1", { faces: "up" }));
  await first;
  assert.deepEqual(desk.state.plan.parts[0], { name: "hull", faces: "up", top_edge: "port" });
  assert.deepEqual(desk.saved.plan.parts[0], { name: "hull", faces: "up" });
  await soon();
  asked[1].answer(told("r2", { faces: "up", top_edge: "port" }));
  await second;
  assert.deepEqual(desk.unsaved, []);
  assert.equal(desk.state.revision, "r2");
});

test("what was refused goes out of sight, what waits behind it stays", async () => {
  const { desk, asked } = opened();
  const first = set(desk, { faces: "sideways" }), second = set(desk, { top_edge: "port" });
  await soon();
  asked[0].answer({ error: "no such way" }, 422);
  await soon();
  asked[1].answer(told("r0", {}));
  await soon();
  asked[2].answer({ stage: "lamps" }, 202);
  assert.equal(await first, false);
  assert.deepEqual(desk.state.plan.parts[0], { name: "hull", top_edge: "port" });
  await soon();
  assert.match(asked[3].path, /changes$/);
  asked[3].answer(told("r1", { top_edge: "port" }));
  assert.equal(await second, true);
});
