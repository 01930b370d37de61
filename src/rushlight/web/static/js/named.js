// Items that others call by name: renamed everywhere, or taken out with every tie to them. Pure.
import { itemsOf, parted } from "./items.js";

const filled = values => Object.fromEntries(Object.entries(values).filter(([, value]) => value !== null && value !== ""));

// Marks and wishes of brightness that name an item, with another name in their place, or none.
function tiesTo(plan, name, fresh, gone = new Set()) {
  const marks = plan.references.flatMap(picture => picture.marks.filter(mark => mark.lamp === name)
    .map(mark => ({ action: "set", kind: "references", name: picture.name, list: "marks", item: mark.name, values: { lamp: fresh } })));
  const likes = itemsOf(plan).filter(({ key, item }) => !gone.has(key) && item.name !== name && item.brightness && item.brightness.like === name)
    .map(({ kind, item }) => ({ action: "set", kind, name: item.name, values: { brightness: fresh ? filled({ ...item.brightness, like: fresh }) : null } }));
  return [...marks, ...likes];
}

export function renamed(plan, key, fresh) {
  const { kind, name } = parted(key), held = (plan.pinned || []).some(pin => pin.of === name);
  const pins = held ? [{ action: "set", kind: "plan", name: "", values: { pinned: plan.pinned.map(pin => filled(pin.of === name ? { ...pin, of: fresh } : pin)) } }] : [];
  return [{ action: "set", kind, name, values: { name: fresh } }, ...tiesTo(plan, name, fresh), ...pins];
}

export function removedWithTies(plan, keys) {
  const gone = new Set(keys);
  return [...keys.flatMap(key => tiesTo(plan, parted(key).name, null, gone)), ...keys.map(key => ({ action: "remove", ...parted(key), values: {} }))];
}
