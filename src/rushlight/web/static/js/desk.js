// One open plan in the browser: what is known of it, what can be done to it. The server keeps it; this keeps up.
import { planTaken, received, wholeState } from "./answers.js";
import { applied, duplicates, itemAt, moves, named, parted } from "./items.js";
import { Drawing, RESTING } from "./drawing.js";
import { removedWithTies } from "./named.js";
import { ANY } from "./pick.js";
import { ask, askAfter, tell } from "./talk.js";
import { clashed } from "./trouble.js";

const NOTHING = {
  id: "", plan: null, look: { lamps: [] }, revision: "", steps: {}, answer: null, stage: "", failed: "", gauge: null, keeping: "", strength: 1,
  chosen: [], state: "", leaf: "", part: null, note: null, filter: ANY, groupBy: "", filtersOpen: false, only: false, words: null,
  light: 1, playing: false, pace: 1, loomShown: false, unit: "mm", saving: 0, saved: "", trouble: null, clash: null,
  pictures: [], outside: [], gone: "", book: null, sheets: {}, copied: [], cured: null, drawing: RESTING, reference: null, mark: null, bySwitch: false, switchedOff: false, savingPictures: "",
};

export class Desk {
  constructor(id, { light = 1, unit = "mm", strength = 1 } = {}) {
    this.state = { ...NOTHING, id, light, unit, strength };
    this.path = `/api/plans/${id}`;
    this.listeners = new Set();
    this.drawing = new Drawing(this);
    this.ears = new Set();  // others that hear the same events: the bench
    this.queue = Promise.resolve();
    this.unsaved = [];  // changes that are shown already and not yet answered, in their order
  }

  set(change) {
    this.state = { ...this.state, ...change };
    for (const listener of this.listeners) listener(this.state);
  }

  async open(asked) {
    const [{ body }, words] = await Promise.all(asked);
    this.set({ words: words.body });
    this.take(body);
    this.listen();
  }

  listen() {
    const events = new EventSource(`${this.path}/events`);
    events.onmessage = message => this.heard(JSON.parse(message.data)).catch(() => {}); // onerror tells it
    events.onerror = () => this.set({ gone: "The app's server does not answer; waiting for it. Nothing that was saved is lost." });
    window.addEventListener("pagehide", () => events.close());
  }

  async heard(event) {
    for (const ear of this.ears) ear(event);
    if (event.event === "hello") {
      this.set({ gone: "", stage: event.stage });
      if (event.revision !== this.state.revision) await this.renew();
      else await this.answers();
    } else if (event.event === "plan" && event.revision !== this.state.revision && !this.state.saving) await this.renew();
    else if (event.event === "plan") this.set({ outside: [] });
    else if (event.event === "stage" && event.kind === "answer") this.set({ stage: event.stage });
    else if (event.event === "stage" && event.kind === "book") this.set({ book: { ...this.state.book, stage: event.stage } });
    else if (event.event === "answer") await this.answers();
    else if (event.event === "failed" && event.revision === this.state.revision) this.set({ failed: event.says, stage: "" });
    else if (event.event === "pictures") await this.renew();
    else if (event.event === "outside") this.set({ outside: event.problems });
  }

  async renew() {
    await this.taken((await ask(`${this.path}?holds=${this.holds()}`)).body);
    await this.answers();
  }

  // The revision that is held whole, so that only what changed since need come.
  holds() { return this.saved ? this.saved.revision : ""; }

  async taken(told) {
    this.take(wholeState(this.saved, told) || (await ask(this.path)).body);
  }

  // What is still on its way stays in sight on top of what the server says: the next change is made on what the person sees.
  take(body) {
    this.saved = body;
    this.set(planTaken(this.state, { ...body, plan: this.unsaved.reduce(applied, body.plan) }));
  }

  async answers() {
    const { status, body } = await ask(`${this.path}/answer`);
    if (status === 200) this.set(received(this.state, body));
    else if (body.failed) this.set({ failed: body.failed, stage: "" });
    else this.set({ stage: body.stage });
  }

  // --- changes: one after the other, each on the newest plan -----------------------------------------------------

  // `changes` is a list, or makes one from the plan as it is when its turn comes (two quick nudges add up).
  change(changes, what) {
    if (Array.isArray(changes) && !changes.length) return Promise.resolve(false);
    const seen = this.state.revision, mine = { changes: [], what };
    if (Array.isArray(changes)) {
      this.unsaved.push(changes);
      this.set({ plan: applied(this.state.plan, changes) });
    }
    return this.sent(() => {
      mine.changes = Array.isArray(changes) ? changes : changes(this.state.plan);
      if (typeof what === "function") mine.what = what(mine.changes);
      const asked = mine.changes.length ? tell(`${this.path}/changes`, { revision: this.ahead(seen), holds: this.holds(), ...mine }) : ask(this.path);
      return asked.finally(() => { this.unsaved = this.unsaved.filter(one => one !== changes); });
    }, mine);
  }

  // The revision that a change was made on: the newest one if all since then came from here.
  ahead(seen) {
    return this.lastOwn && this.lastOwn.before.has(seen) ? this.lastOwn.after : seen;
  }

  sent(send, mine = null) {
    this.set({ saving: this.state.saving + 1, trouble: null });
    this.queue = this.queue.then(async () => {
      const before = this.state.revision;
      try {
        const { body } = await send();
        this.own(before, body.revision);
        await this.taken(body);
        this.set({ saved: new Date().toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" }) });
        return true;
      } catch (error) {
        await this.refused(error, mine);
        return false;
      } finally {
        this.set({ saving: this.state.saving - 1 });
      }
    });
    return this.queue;
  }

  own(before, after) {
    const older = this.lastOwn && this.lastOwn.after === before ? this.lastOwn.before : new Set();
    this.lastOwn = { before: new Set([...older, before]), after };
  }

  async refused(error, mine) {
    if (error.kind === "clash" && mine) {
      this.set({ clash: clashed(this.state.clash, mine, error.items) });
      await this.renew();
    } else {
      this.set({ trouble: { says: error.message, problems: error.problems || [] } });
      if (error.status) await this.renew();
      else this.take(this.saved); // what was not saved is not shown as if it were
    }
  }

  // After a clash: mine on top of theirs (theirs stays in the history), or theirs as it is. Mine is kept until it is saved.
  async settle(useMine) {
    const { clash } = this.state;
    this.set({ clash: null });
    if (!useMine || !clash) return;
    const { changes, what } = clash;
    const done = await this.sent(() => tell(`${this.path}/changes`, { revision: this.state.revision, holds: this.holds(), changes, what }), clash);
    if (!done && !this.state.clash) this.set({ clash });
  }

  undo() { return this.state.steps.undo ? this.sent(() => tell(`${this.path}/undo?holds=${this.holds()}`)) : null; }

  redo() { return this.state.steps.redo ? this.sent(() => tell(`${this.path}/redo?holds=${this.holds()}`)) : null; }

  // --- the chosen ------------------------------------------------------------------------------------------------

  choose(key, more) {
    const { chosen } = this.state;
    let now;
    if (!key) now = more ? chosen : [];
    else if (more) now = chosen.includes(key) ? chosen.filter(one => one !== key) : [...chosen, key];
    else now = chosen.includes(key) ? chosen : [key];
    this.set({ chosen: now });
    return now;
  }

  nudge(dx, dy) {
    const { chosen } = this.state;
    return chosen.length ? this.change(plan => moves(plan, chosen, [dx, dy]), `${named(chosen)} moved`) : null;
  }

  remove() {
    const { chosen } = this.state;
    return chosen.length ? this.change(removedWithTies(this.state.plan, chosen), `${named(chosen)} removed`) : null;
  }

  async duplicate() {
    const { chosen } = this.state;
    await this.added(plan => duplicates(plan, chosen, [5, -5]), () => `${named(chosen)} duplicated`);
  }

  copy() { this.set({ copied: this.state.chosen }); }

  // What was copied, put down on another part at the same place.
  async paste(part) {
    const { copied } = this.state, target = part || this.state.part;
    const onTarget = change => ({ ...change, values: target ? { ...change.values, part: target } : change.values });
    await this.added(plan => duplicates(plan, copied, target ? [0, 0] : [5, -5]).map(onTarget), () => `${named(copied)} copied`);
  }

  // New items, named when their turn comes, so that two in quick succession get two names; then they are the chosen ones.
  async added(made, what) {
    let changes = [];
    const done = await this.change(plan => { changes = made(plan); return changes; }, what);
    if (done) this.set({ chosen: changes.map(change => `${change.kind}/${change.name}`) });
    return done;
  }

  edit(key, values, what) {
    const { kind, name } = parted(key);
    return this.change([{ action: "set", kind, name, values }], what);
  }

  item(key) { return itemAt(this.state.plan, key); }

  // --- the rest --------------------------------------------------------------------------------------------------

  async leafSheets(leaf) {
    const held = this.state.sheets[leaf];
    if (held && held.revision === this.state.revision) return;
    try {
      const body = await askAfter(`${this.path}/sheets/${leaf}`);
      if (body) this.set({ sheets: { ...this.state.sheets, [leaf]: body } });
    } catch {
      // It is asked for again when the answer has come.
    }
  }

  stopBook() { return tell(`${this.path}/book/stop`).catch(() => {}); }

  async makeBook(paper) {
    this.set({ book: { working: true, stage: "starting", paper } });
    try {
      const { body } = await tell(`${this.path}/book`, { paper });
      this.set({ book: { ...body, paper, working: false } });  // stopped: no file, only what it says
    } catch (error) {
      this.set({ book: { working: false, says: error.message } });
    }
  }
}
