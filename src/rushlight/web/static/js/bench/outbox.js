// Acts that wait to be sent: kept in the browser's storage, so that a phone that slept or was reloaded loses none.

const MOST = 500;

export class Outbox {
  constructor(storage, key) {
    this.storage = storage;
    this.key = key;
    this.acts = this.kept();
  }

  kept() {
    try {
      const found = JSON.parse(this.storage.getItem(this.key) || "[]");
      return Array.isArray(found) ? found.filter(act => act && typeof act.id === "string") : [];
    } catch {
      return [];
    }
  }

  keep() {
    try {
      this.storage.setItem(this.key, JSON.stringify(this.acts));
    } catch {
      // A full storage: the acts stay in the page.
    }
  }

  // A later act of the same kind on the same thing takes the place of one that waits still.
  add(act) {
    const same = old => old.kind === act.kind && old.step === act.step && (old.part || null) === (act.part || null) && (old.what || "") === (act.what || "");
    const older = ["read", "cut", "look"].includes(act.kind) ? this.acts.find(same) : null;
    const seen = older && older.seen ? { seen: [...older.seen, older.value] } : {};  // the older may be on its way
    this.acts = [...this.acts.filter(old => old !== older), { ...act, ...seen }].slice(-MOST);
    this.keep();
  }

  // Takes out what was answered; gives back what was refused, with why.
  settle(results) {
    const answers = new Map(results.map(row => [row.id, row.refused]));
    const refused = this.acts.filter(act => answers.get(act.id)).map(act => ({ act, says: answers.get(act.id) }));
    this.acts = this.acts.filter(act => !answers.has(act.id));
    this.keep();
    return refused;
  }
}

// Plain HTTP has no randomUUID; random values it has.
export function newId(fill) {
  return [...fill(new Uint8Array(12))].map(byte => byte.toString(16).padStart(2, "0")).join("");
}
