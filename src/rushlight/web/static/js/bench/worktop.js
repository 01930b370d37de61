// The bench in the browser: what to do, what is done, what waits to be sent. The phone and the app use the same.
import { Refused, ask, hand, tell } from "../talk.js";
import { withActs } from "./log.js";
import { Outbox, newId } from "./outbox.js";

const AGAIN_MS = 4000;
const BATCH = 100;

export class Worktop {
  constructor(path, { storage = window.localStorage, key = "outbox" } = {}) {
    this.path = path;
    this.outbox = new Outbox(storage, key);
    this.state = { bench: null, log: [], sure: [], waiting: this.outbox.acts, refused: [], away: "", stage: "", failed: "", undo: null, name: "", ended: "" };
    this.listeners = new Set();
    this.drawings = new Map();
  }

  set(change) {
    const state = { ...this.state, ...change };
    this.state = { ...state, log: withActs(state.sure, state.waiting) };
    for (const listener of this.listeners) listener(this.state);
  }

  // Events of its own, where nobody else listens for them (on the phone).
  listen(path) {
    const open = () => {
      if (this.events) this.events.close();
      this.events = new EventSource(path);
      this.events.onmessage = message => this.heard(JSON.parse(message.data));
      this.events.onerror = () => this.lost();
    };
    open();
    const awake = () => {
      if (document.hidden || this.state.ended) return;
      if (!this.events || this.events.readyState === EventSource.CLOSED) open();
      this.renew();
    };
    document.addEventListener("visibilitychange", awake);
    window.addEventListener("online", awake);
    window.addEventListener("pageshow", event => { if (event.persisted) awake(); });
    window.addEventListener("pagehide", () => this.events.close());
    setInterval(() => { if (this.events.readyState === EventSource.CLOSED && !document.hidden && !this.state.ended) awake(); }, AGAIN_MS);
  }

  lost() {
    if (!this.state.ended) this.set({ away: "The computer does not answer. Go on: what you tick is kept here and sent later." });
  }

  heard(event) {
    if (event.event === "hello") { this.set({ name: event.name || "", away: "" }); this.renew(); }
    else if (event.event === "plan") this.renewLog();
    else if (event.event === "answer") this.renew();
    else if (event.event === "failed") this.set({ failed: event.says || "" });
    else if (event.event === "stage" && event.kind === "answer") this.set({ stage: event.stage });
    else if (event.event === "bye") this.over();
  }

  // Sent away, or the door closed: what waits stays in the storage.
  over() {
    if (this.events) this.events.close();
    this.set({ ended: "The door is closed for this phone. Ask for a new code at the computer.", away: "" });
  }

  async renew() {
    try {
      const { status, body } = await ask(this.path);
      if (status === 200) {
        const fresh = !this.state.bench || this.state.bench.of !== body.of;
        if (fresh) this.drawings.clear();
        this.set({ bench: fresh ? body : this.state.bench, sure: body.log, undo: body.undo, stage: body.stage, failed: body.failed, away: "" });
        await this.flush();
      } else this.set({ stage: body.stage, failed: body.failed, away: "" });
    } catch (error) {
      this.trouble(error);
    }
  }

  async renewLog() {
    try {
      const { body } = await ask(`${this.path}/log`);
      this.set({ sure: body.log, undo: body.undo, away: "" });
    } catch (error) {
      this.trouble(error);
    }
  }

  trouble(error) {
    if (error instanceof Refused && error.status === 401) this.over();
    else this.lost();
  }

  // --- acts ------------------------------------------------------------------------------------------------------

  act(kind, of, more = {}) {
    const act = { id: newId(bytes => crypto.getRandomValues(bytes)), at_ms: Date.now(), kind, ...of, ...more };
    this.outbox.add(act);
    this.set({ waiting: this.outbox.acts });
    return this.flush();
  }

  flush() {
    if (!this.sending) this.sending = this.send().finally(() => { this.sending = null; });
    return this.sending;
  }

  async send() {
    clearTimeout(this.again);
    while (this.outbox.acts.length) {
      try {
        const { body } = await tell(`${this.path}/acts`, { acts: this.outbox.acts.slice(0, BATCH) });
        const refused = this.outbox.settle(body.results);
        this.set({ waiting: this.outbox.acts, sure: body.log, undo: body.undo, refused: [...this.state.refused, ...refused], away: "" });
      } catch (error) {
        this.trouble(error);
        if (!this.state.ended) this.again = setTimeout(() => this.flush(), AGAIN_MS);
        return;
      }
    }
  }

  tick(step, more = {}) { return this.act("tick", named(step), more); }

  untick(step) { return this.act("untick", named(step)); }

  read(step, reading, value, seen, note = "") { return this.act("read", named(step), { what: reading.name, value, seen, note }); }

  cut(piece, length_mm) { return this.act("cut", { step: piece.piece, part: null }, { length_mm }); }

  uncut(piece) { return this.act("uncut", { step: piece.piece, part: null }); }

  // A photograph goes at once or not at all: it is too large to be kept in the page's storage.
  async photograph(step, file) {
    const words = new URLSearchParams({ step: step.key, part: step.part || "", name: file.name || "photo" });
    const { body } = await hand(`${this.path}/photo?${words}`, file);
    this.set({ sure: body.log, undo: body.undo });
  }

  // --- the rest --------------------------------------------------------------------------------------------------

  async drawing(number) {
    if (!this.drawings.has(number)) this.drawings.set(number, (await ask(`${this.path}/drawings/${number}`)).body);
    return this.drawings.get(number);
  }
}

const named = step => ({ step: step.key, part: step.part, title: step.title });
