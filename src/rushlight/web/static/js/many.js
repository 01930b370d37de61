// Many chosen items at once: what they share, and changes to all of them. Pure.
import { itemAt, parted } from "./items.js";

const SAME = JSON.stringify;

// {same: value} where all agree, {differs: true} where not; items that have no such key are left out of it.
export function shared(items, key) {
  const values = items.filter(item => key in item).map(item => item[key] ?? null);
  if (!values.length) return { missing: true };
  return values.every(value => SAME(value) === SAME(values[0])) ? { same: values[0] } : { differs: true };
}

// A tick over many: all, some or none have a word in a list.
export function shareOf(items, key, word) {
  const having = items.filter(item => (item[key] || []).includes(word)).length;
  return having === 0 ? "none" : having === items.length ? "all" : "some";
}

// New values for all that have the key; what has them already is left alone.
export function setAll(plan, keys, values) {
  return keys.flatMap(key => {
    const { kind, name } = parted(key), item = itemAt(plan, key);
    const own = Object.fromEntries(Object.entries(values).filter(([field, value]) => item && field in item && SAME(item[field] ?? null) !== SAME(value)));
    return Object.keys(own).length ? [{ action: "set", kind, name, values: own }] : [];
  });
}

// A word put into or taken out of a list of each, in the plan's order of such words.
export function tickAll(plan, keys, field, word, on, order) {
  return keys.flatMap(key => {
    const { kind, name } = parted(key), item = itemAt(plan, key);
    if (!item || item[field].includes(word) === on) return [];
    const now = new Set(item[field]);
    if (on) now.add(word); else now.delete(word);
    return [{ action: "set", kind, name, values: { [field]: order.filter(one => now.has(one)) } }];
  });
}

// Another source for each lamp or row; null lets the design choose.
export function madeAll(plan, keys, made) {
  return keys.flatMap(key => {
    const { kind, name } = parted(key), item = itemAt(plan, key);
    if (!item || kind === "strips" || (item.source ? item.source.kind : null) === made) return [];
    return [{ action: "set", kind, name, values: { source: made ? { kind: made } : null } }];
  });
}

export function sharedMade(items) {
  const own = items.filter(item => "source" in item).map(item => item.source ? item.source.kind : null);
  if (!own.length) return { missing: true };
  return own.every(made => made === own[0]) ? { same: own[0] } : { differs: true };
}
