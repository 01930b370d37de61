// Choices that are held fast, as forms have them. Pure.

export const CHOICES = {
  led: { label: "LED", says: "" }, current_ma: { label: "Current of each LED", unit: "mA", says: "More is brighter and warmer." }, resistor_ohm: { label: "Resistor", unit: "ohm", says: "In series with each LED." },
  fibre_mm: { label: "Fibre, diameter", unit: "mm", says: "A wider fibre on the same LED is brighter, as its area grows." }, bundle: { label: "Bundle that it goes into", unit: "", kind: "text", says: "Lamps with the same name here share one LED, of one width or several." },
  fibres_per_led: { label: "Fibres on one LED, at most", unit: "", says: "" }, illuminator_part: { label: "Part that the LED of its fibres sits on", says: "" }, gauge_awg: { label: "Wire, AWG", says: "A smaller number is a thicker wire." },
  leds_in_series: { label: "LEDs in series, at most", unit: "" }, regulator: { label: "What sets the current", unit: "" },
  fibre_inlet: { label: "Fibre ends at the LED", unit: "" }, bundle_joint: { label: "Joint of bundle and LED", unit: "" }, led_dome: { label: "Dome of the bundle's LED", unit: "" }, bundle_gap_mm: { label: "Gap between LED and bundle", unit: "mm" },
};

export const pinOf = (plan, choice, of) => plan.pinned.findLast(pin => pin.choice === choice && pin.of === of) || null;

const unitOf = choice => CHOICES[choice].unit ? ` ${CHOICES[choice].unit}` : "";

export const tookWords = (row, isHeld) => row.took.length ? `${isHeld ? "You hold it; the design takes" : "The design chose"} ${row.took.length > 4 ? `${row.took.slice(0, 3).join(", ")}${unitOf(row.choice)} and others` : `${row.took.join(", ")}${unitOf(row.choice)}`}.` : "Nothing is chosen for it yet.";

export const ofWords = of => of === "all" ? "all wire" : of === "return" ? "the shared return" : /^I\d+$/.test(of) ? `illuminator ${of}` : /^[A-Z]{1,2}$/.test(of) ? `circuit ${of}` : of;

export const pinWords = pin => `${CHOICES[pin.choice].label} of ${ofWords(pin.of)}: ${pin.value}${unitOf(pin.choice)}`;

export const ofsOf = known => [...new Set(known.rows.map(row => row.of))];

// What a held choice may be; null for a number that is typed.
export function valuesOf(choice, forms, plan) {
  return { led: forms.leds, fibre_mm: forms.fibres_mm.map(mm => `${mm}`), illuminator_part: plan.parts.map(part => part.name), gauge_awg: forms.gauges }[choice] || null;
}

export const WAY_WORDS = { led: "an LED at the hole", fibre: "fibre", room: "an LED in the room", strip: "a strip" };

const entryOf = (plan, name) => ["lamps", "rows"].flatMap(kind => plan[kind].filter(item => item.name === name).map(item => ({ kind, item })))[0];

// Whether one press can hold a way: a strip needs openings, and what is held needs no press.
export const canTake = (plan, way) => way.of.every(name => entryOf(plan, name)) && (way.kind !== "strip" || way.of.every(name => entryOf(plan, name).item.opening)) && way.of.some(name => (entryOf(plan, name).item.source || {}).kind !== way.kind);

// The edits that hold it for all that are weighed together.
export const madeOf = (plan, way) => way.of.map(name => ({ action: "set", kind: entryOf(plan, name).kind, name, values: { source: way.fibre_mm ? { kind: way.kind, fibre_mm: way.fibre_mm } : { kind: way.kind } } }));
