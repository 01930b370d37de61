import assert from "node:assert/strict";
import { test } from "node:test";
import { JS } from "./here.mjs";

const own = await import(`${JS}later/own-rows.js`);
const feed = await import(`${JS}later/feed-rows.js`);
const bands = await import(`${JS}bench/band-value.js`);

const LED = { table: "leds", row: "3 mm red", column: "intensity_mcd" };
const plan = { drawer: [{ ...LED, value: 300, measured: false, note: "" }, { table: "walls", row: "white styrene", column: "transmittance_1mm", value: 0.1, measured: true, note: "" }],
  practice: [{ habit: "splice_size", value: 2, to: null, note: "mine" }] };

test("a measured value takes the place of what was held for it; the others stay as the plan keeps them", () => {
  const { drawer } = own.withValue(plan, LED, 850, true);
  assert.deepEqual(drawer, [{ table: "walls", row: "white styrene", column: "transmittance_1mm", value: 0.1, measured: true }, { ...LED, value: 850, measured: true }]);
  assert.deepEqual(own.withValue({}, LED, 5, false), { drawer: [{ ...LED, value: 5 }] });
});

test("readings typed side by side become an entry of the plan; the same thing measured again gives way", () => {
  const coat = { what: "coat", of: ["black lacquer"], lists: [["readings", "with"], ["against", "before"]], needs: ["count"], may: [] };
  assert.deepEqual(own.numbersOf("12, 14; 13"), [12, 14, 13]);
  assert.equal(own.numbersOf("12, dark"), null);
  assert.equal(own.asMeasured(coat, { of: "black lacquer", readings: "1", against: "" , count: 2 }), null);
  assert.equal(own.asMeasured(coat, { of: "black lacquer", readings: "1", against: "100" }), null);
  const entry = own.asMeasured(coat, { of: "black lacquer", readings: "1, 2", against: "100", count: 2 });
  assert.deepEqual(entry, { what: "coat", of: "black lacquer", readings: [1, 2], against: [100], count: 2 });
  const held = { measured: [{ ...entry, two: [], note: "", count: 1 }, { what: "wall", of: "white styrene", readings: [5], against: [9], two: [], thickness_mm: 1, note: "" }] };
  assert.deepEqual(own.withMeasured(held, entry).measured, [{ what: "wall", of: "white styrene", readings: [5], against: [9], thickness_mm: 1 }, entry]);
  assert.deepEqual(own.ownRows(held).map(row => [row.list, row.what, row.value]), [["measured", "coat: black lacquer", "1, 2"], ["measured", "wall: white styrene", "5"]]);
});

test("a diffuser's second sheet may be left out, but not half typed", () => {
  const sheet = { what: "diffuser", of: ["opal"], lists: [["readings", "one"], ["against", "bare"], ["two", "two"]], spare: ["two"], needs: [], may: [] };
  assert.deepEqual(own.asMeasured(sheet, { of: "opal", readings: "41", against: "100" }), { what: "diffuser", of: "opal", readings: [41], against: [100] });
  assert.equal(own.asMeasured(sheet, { of: "opal", readings: "41", against: "100", two: "dark" }), null);
});

test("the list shows both kinds; one is taken out by its place", () => {
  assert.deepEqual(own.ownRows(plan).map(row => [row.what, row.value, row.how]),
    [["3 mm red: intensity, mcd", "300", "known better"], ["white styrene: transmittance 1mm", "0.1", "measured"], ["splice size", "2", "habit"]]);
  assert.deepEqual(own.without(plan, "drawer", 0).drawer.map(row => row.table), ["walls"]);
  assert.deepEqual(own.without(plan, "practice", 0), { practice: [] });
});

const rows = ["kind", "cell", "in_series", "in_parallel", "adapter_v", "limit_a", "bank_mah", "bay", "run_h", "fuse_a", "master", "note"].map(key => ({ key, unit: key === "adapter_v" ? "v" : "" }));
const parts = [{ bays: [{ name: "hold" }] }, { bays: [] }];

test("a supply shows what its kind has, and the bays that there are", () => {
  const keys = kind => feed.supplyRows(rows, { parts, supply: { kind } }).map(row => row.key);
  assert.deepEqual(keys("cells"), ["kind", "cell", "in_series", "in_parallel", "bay", "run_h", "fuse_a", "master"]);
  assert.deepEqual(keys("adapter"), ["kind", "adapter_v", "limit_a", "bay", "run_h", "fuse_a", "master"]);
  const shown = feed.supplyRows(rows, { parts, supply: { kind: "adapter" } });
  assert.deepEqual(shown.find(row => row.key === "bay").choices, ["hold"]);
  assert.equal(shown.find(row => row.key === "adapter_v").unit, "V");
});

test("each rhythm that something keeps has one maker", () => {
  const lit = { lamps: [{ rhythm: "Fl 4s" }, { rhythm: "steady" }, { rhythm: "Q", worth: "left out" }], rows: [{ rhythm: "Fl 4s" }], strips: [{ rhythm: "flicker" }] };
  assert.deepEqual(feed.drivenRhythms(lit), ["Fl 4s", "flicker"]);
  const held = [{ rhythm: "Fl 4s", by: "flasher", drift_share: 0, note: "" }];
  assert.deepEqual(feed.withMaker(held, "flicker", { by: "self-timed led" }), [{ rhythm: "Fl 4s", by: "flasher" }, { rhythm: "flicker", by: "self-timed led" }]);
  assert.deepEqual(feed.withMaker(held, "Fl 4s", { drift_share: 0.02 }), [{ rhythm: "Fl 4s", by: "flasher", drift_share: 0.02 }]);
  assert.deepEqual(feed.withMaker(held, "Fl 4s", null), []);
  assert.deepEqual(feed.withMaker(undefined, "Q", { by: "controller" }), [{ rhythm: "Q", by: "controller" }]);
});

test("the evening is the plan's own, else its states with their minutes", () => {
  const states = [{ name: "day", minutes: null }, { name: "dusk", minutes: 20 }];
  assert.deepEqual(feed.eveningOf({ states, evening: [] }), [{ state: "dusk", minutes: 20 }]);
  assert.deepEqual(feed.eveningOf({ states, evening: [{ state: "day", minutes: 5, note: "" }, { state: "day", minutes: 9, note: "last" }] }),
    [{ state: "day", minutes: 5 }, { state: "day", minutes: 9, note: "last" }]);
});

test("what sets the current: a circuit's choices, what is held, and a resistor beside a regulator in words", () => {
  const feeds = [{ circuit: "A", kind: "resistor", part: "", count: 1, fresh_ma: 11.04, flat_ma: 6.6, heat_mw: 66.9, built: false }, { circuit: "A", kind: "regulator", part: "linear regulator 10 mA", count: 2, fresh_ma: 20, flat_ma: 19.4, heat_mw: 78.9, built: true }];
  const pins = [{ of: "A", choice: "leds_in_series", value: "3", note: "" }, { of: "A", choice: "regulator", value: "nearest", note: "" }];
  const [row, ...more] = feed.regulatorRows({ feeds, regulators: ["linear regulator 10 mA"] }, { pinned: pins });
  assert.equal(more.length, 0);
  assert.equal(row.value, "nearest");
  assert.deepEqual(row.choices.map(([value]) => value), ["", "nearest", "none", "linear regulator 10 mA"]);
  assert.equal(row.says, "With a resistor: 11 mA fresh, 6.6 mA flat, up to 67 mW of heat. With 2 x linear regulator 10 mA: 20 mA fresh, 19 mA flat, up to 79 mW of heat.");
  assert.deepEqual(feed.withRegulator(pins, "A", "none"), [{ of: "A", choice: "leds_in_series", value: "3" }, { of: "A", choice: "regulator", value: "none" }]);
  assert.deepEqual(feed.withRegulator(pins, "A", ""), [{ of: "A", choice: "leds_in_series", value: "3" }]);
});

test("LEDs in series: a circuit's choices, what is held, and the other held choices left alone", () => {
  const series = [{ circuit: "A", leds: 8, in_series: 1, best: false, why: "" }, { circuit: "A", leds: 8, in_series: 2, best: true, why: "it saves 41 %" }, { circuit: "B", leds: 2, in_series: 1, best: true, why: "" }];
  const pins = [{ of: "A", choice: "gauge_awg", value: "28", note: "" }, { of: "A", choice: "leds_in_series", value: "3", note: "" }];
  const [row, ...more] = feed.seriesRows(series, { pinned: pins });
  assert.equal(more.length, 0);
  assert.equal(row.value, "3");
  assert.deepEqual(row.choices.map(([value]) => value), ["", "1", "2", "3"]);
  assert.equal(row.choices[0][1], "by the rule: at most 2 in series");
  assert.equal(row.why, "8 LEDs: 2 in series, as it saves 41 %.");
  assert.deepEqual(feed.withSeries(pins, "A", "2"), [{ of: "A", choice: "gauge_awg", value: "28" }, { of: "A", choice: "leds_in_series", value: "2" }]);
  assert.deepEqual(feed.withSeries(pins, "A", ""), [{ of: "A", choice: "gauge_awg", value: "28" }]);
  assert.equal(feed.seriesRows(series, {})[0].value, "");
});

test("parts at hand: one more, more pieces of one, one taken out; what is named is no longer offered", () => {
  const held = [{ table: "switches", row: "slide 1P2T", count: 2, note: "old" }, { table: "regulators", row: "r10", count: 1, note: "" }];
  assert.deepEqual(feed.withPieces(undefined, "switches", "slide 1P3T", 1), [{ table: "switches", row: "slide 1P3T" }]);
  assert.deepEqual(feed.withPieces(held, "regulators", "r10", 12), [{ table: "switches", row: "slide 1P2T", count: 2, note: "old" }, { table: "regulators", row: "r10", count: 12 }]);
  assert.deepEqual(feed.withPieces(held, "switches", "slide 1P2T", 1)[0], { table: "switches", row: "slide 1P2T", note: "old" });
  assert.deepEqual(feed.withPieces(held, "switches", "slide 1P2T", 0), [{ table: "regulators", row: "r10" }]);
  const { more } = feed.handRows({ switches: ["slide 1P2T", "rotary 2P6T"], regulators: ["r10"] }, { at_hand: held });
  assert.deepEqual(more, [["switches:rotary 2P6T", "rotary 2P6T"]]);
  const all = feed.handRows({ switches: [], regulators: [], assortments: ["axial 0.25 W, E12 10 %", "axial 0.25 W, E96 1 %"] }, { at_hand: [{ table: "resistors", row: "axial 0.25 W, E12 10 %", count: 1 }] });
  assert.deepEqual(all.more, [["resistors:axial 0.25 W, E96 1 %", "axial 0.25 W, E96 1 %"]]);
});

test("single resistors that are typed as a list, as people write them", () => {
  assert.deepEqual(feed.typedOhms("100, 470;4k7 1M").values, [100, 470, "4k7", "1M"]);
  assert.deepEqual(feed.typedOhms("4,7k, 4.7 kohm, 470 Ω, R47").values, ["4.7k", "4.7k", 470, "R47"]);
  assert.deepEqual(feed.typedOhms(null), { values: [] });
  assert.match(feed.typedOhms("100,220").wrong, /'100,220' is no resistance.*a space after each comma/);
  const each = feed.typedOhms("470, few, 4k7k, -5, 47O, 470m, 1m, 4k7").wrong;
  assert.ok(each.startsWith("'few', '4k7k' (4k7, perhaps), '-5' (5, perhaps), '47O' (470, perhaps), '470m' (0.47, perhaps), '1m' (1M, perhaps) are no resistances."), each);
  for (const word of ["-5", "few", "470m", "k"]) assert.match(feed.typedOhms(word).wrong, /is no resistance/);
  assert.equal(feed.ohmList([0.47, 100, 4700, 1e6]), "0.47, 100, 4.7k, 1M");
});

test("single resistors stand beside what else is at hand, and go when the list is emptied", () => {
  const held = [{ table: "switches", row: "slide 1P2T", count: 2, values_ohm: [], note: "" }, { table: "resistors", row: "", count: 1, values_ohm: [100], note: "tin" }];
  assert.deepEqual(feed.withValues(held, "", [220])[1], { table: "resistors", values_ohm: [220], note: "tin" });
  assert.deepEqual(feed.withValues(held, "", []), [{ table: "switches", row: "slide 1P2T", count: 2 }]);
  const more = feed.withValues(held, "axial 1 W, E24 5 %", [10]);
  assert.deepEqual(more[2], { table: "resistors", row: "axial 1 W, E24 5 %", values_ohm: [10] });
  assert.deepEqual(feed.withValues(more, "axial 1 W, E24 5 %", [])[2], { table: "resistors", row: "axial 1 W, E24 5 %" });
  assert.deepEqual(feed.withPieces(more, "switches", "slide 1P2T", 0), more.slice(1));
});

test("where a regulator is held, the words on strings say so", () => {
  const series = by => [{ circuit: "A", leds: 4, in_series: 1, best: true, built: true, by, why: "it pays little" }, { circuit: "A", leds: 4, in_series: 2, best: false, built: false, by, why: "" }];
  const [row] = feed.seriesRows(series("regulator"), { pinned: [] });
  assert.deepEqual(row.choices.slice(0, 2), [["", "by the rule: a regulator each"], ["1", "always a regulator each"]]);
  assert.match(row.why, /4 LEDs: a regulator each, as it pays little/);
  assert.equal(feed.seriesRows(series("resistor"), { pinned: [] })[0].choices[1][1], "always a resistor each");
});

test("what is held for all circuits is what stands where a circuit holds nothing of its own", () => {
  const power = { feeds: [{ circuit: "A", kind: "resistor", fresh_ma: 1, flat_ma: 1, heat_mw: 1 }], regulators: ["r10"] }, of = value => ({ pinned: [{ of: "all", choice: "regulator", value }] });
  assert.equal(feed.regulatorRows(power, of("nearest"))[0].choices[0][1], "as held for all: the nearest regulator");
  assert.equal(feed.regulatorRows(power, of("r10"))[0].choices[0][1], "as held for all: r10");
  assert.equal(feed.regulatorRows(power, of("none"))[0].choices[0][1], "as it comes: a resistor");
  const series = [{ circuit: "A", leds: 4, in_series: 1, best: true, by: "resistor", why: "" }, { circuit: "A", leds: 4, in_series: 2, best: false, by: "resistor", why: "" }];
  assert.equal(feed.seriesRows(series, { pinned: [{ of: "all", choice: "leds_in_series", value: "2" }] })[0].choices[0][1], "as held for all: at most 2 in series");
});

test("bands: each place offers what may stand there, and the value is that of IEC 60062 (from memory)", () => {
  const code = { series: [["E24", [470, 510]]], colours: [["black", 0, 0, null], ["brown", 1, 1, 0.01], ["red", 2, 2, 0.02], ["yellow", 4, 4, 0.0002], ["violet", 7, 7, 0.001], ["gold", null, -1, 0.05], ["pink", null, -3, null]] }, { colours } = code;
  assert.deepEqual(bands.placesOf(colours, 5).map(place => place.label).slice(2), ["Third digit", "Noughts", "The one apart: how far it may be off"]);
  assert.ok(!bands.placesOf(colours, 4)[0].colours.includes("gold") && !bands.placesOf(colours, 4)[3].colours.includes("black"));
  assert.equal(bands.bandsRead(code, ["yellow", "violet", "brown", "gold"]).says, "470 ohm, 5 %: 446.5 ohm to 493.5 ohm");
  assert.equal(bands.bandsRead(code, ["yellow", "violet", "black", "brown", "brown"]).says, "4.7 kohm, 1 %: 4.653 kohm to 4.747 kohm");
  assert.equal(bands.bandsRead(code, ["yellow", "violet", "gold", "gold"]).ohm, 4.7);
});
