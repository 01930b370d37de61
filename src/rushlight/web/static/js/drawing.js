// Drawing on the part that is shown: what is chosen, what is being added, what is proposed and not yet written.
import { added, bent, boxed, canTake, figuresOf, freeFigureName, inserted, removed, shifted, without, written, WORDS, NESTED } from "./figures.js";
import { faultOf } from "./faults.js";
import { ALL_HOLDS } from "./snap.js";
import { followers } from "./standing.js";
import { inside, centreOf } from "./shapes.js";
import { ask } from "./talk.js";

export const RESTING = { figure: null, point: null, tool: null, trace: [], proposal: null, offer: null, holds: ALL_HOLDS, step_mm: 1, middle: null };

// What has to be told of a new item before it can be written: keys of the plan that must stand.
const ASKED = { obstacles: ["height_mm"], bays: ["depth_mm", "access"], heights: ["height_mm"], strings: ["length_mm"], crossings: ["kind"] };
const TRACED = { ring: 3, line: 2, pair: 2, dot: 1 };

export class Drawing {
  constructor(desk) {
    this.desk = desk;
    this.held = { plan: null, part: null, figures: [] };
  }

  get now() { return this.desk.state.drawing; }

  get part() {
    const { plan, part, leaf } = this.desk.state;
    return plan && leaf === "parts" && part ? plan.parts.find(row => row.name === part) || null : null;
  }

  set(change) {
    this.desk.set({ drawing: { ...this.now, ...change } });
  }

  figures() {
    const { plan } = this.desk.state, { part } = this;
    if (!part) return [];
    if (this.held.plan !== plan || this.held.part !== part) this.held = { plan, part, figures: figuresOf(plan, part) };
    return this.held.figures;
  }

  // What is chosen: as proposed where that could not be written yet.
  figure() {
    const { figure, proposal } = this.now;
    if (proposal && proposal.figure.key === figure) return proposal.figure;
    return this.figures().find(row => row.key === figure) || null;
  }

  // The middle lines of the part: as typed, else of its outline.
  middle() {
    if (this.now.middle) return this.now.middle;
    const [x, y, width, height] = boxed(this.part.outline_mm);
    return { x: x + width / 2, y: y + height / 2 };
  }

  choose(figure, point = null) {
    const same = this.now.proposal && this.now.proposal.figure.key === figure;
    this.set({ figure, point, tool: null, trace: [], proposal: same ? this.now.proposal : null });
  }

  // Another part, or none: nothing of the old one stays chosen.
  goTo(part) {
    this.desk.set({ part, drawing: { ...this.now, figure: null, point: null, tool: null, trace: [], proposal: null, offer: null, middle: null } });
  }

  // --- changing what is there --------------------------------------------------------------------------------------

  // Write a figure's new shape, or show why it cannot be written; it then stays as a proposal.
  async put(figure, what) {
    const { plan } = this.desk.state, { part } = this, { proposal } = this.now, fault = faultOf(plan, part, figure);
    if (proposal && proposal.fresh) return this.propose(figure, proposal.values);
    if (fault) { this.set({ proposal: { figure, fault, what } }); return false; }
    return this.write(figure, written(part, figure), what);
  }

  async write(figure, changes, what) {
    this.set({ proposal: null });
    if (await this.desk.change(changes, what)) return true;
    const { trouble, clash } = this.desk.state;
    if (trouble && !clash) {
      this.set({ proposal: { figure, fault: { says: trouble.says, at: figure.points[0] }, what, fresh: !this.figures().some(row => row.key === figure.key) } });
      this.desk.set({ trouble: null });
    }
    return false;
  }

  bend(n, at) {
    const figure = this.figure();
    return figure && this.put(bent(figure, n, at), `${this.title(figure)} mended`);
  }

  // By keys: worked out when its turn comes, so that quick steps add up; a proposal moves at once.
  shift(by) {
    const figure = this.figure(), { proposal, point } = this.now, round = value => Math.round(value * 100) / 100;
    if (!figure) return null;
    const moved = row => point !== null && row.points[point] ? bent(row, point, row.points[point].map((value, n) => round(value + by[n]))) : shifted(row, by);
    const what = `${this.title(figure)} ${point === null ? "moved" : "mended"}`;
    if (proposal) return this.put(moved(figure), what);
    const { name } = this.part;
    return this.desk.change(plan => {
      const part = plan.parts.find(row => row.name === name), now = part && figuresOf(plan, part).find(row => row.key === figure.key);
      if (!now) return [];
      const next = moved(now), fault = faultOf(plan, part, next);
      if (!fault) return written(part, next);
      this.set({ proposal: { figure: next, fault, what } });
      return [];
    }, what);
  }

  insert(n, at = null) {
    const figure = this.figure();
    this.set({ point: n + 1 });
    return this.put(inserted(figure, n, at), `point put into ${this.title(figure)}`);
  }

  take(n) {
    const figure = this.figure();
    if (!canTake(figure)) { this.set({ proposal: { figure, fault: { says: `A ${WORDS[figure.kind]} needs ${figure.form === "ring" ? "three" : "two"} points at least.`, at: figure.points[n] } } }); return null; }
    this.set({ point: null });
    return this.put(without(figure, n), `point taken out of ${this.title(figure)}`);
  }

  remove() {
    const figure = this.figure(), { part } = this, { plan } = this.desk.state;
    if (!figure || figure.kind === "outline") return null;
    this.choose(null);
    return this.desk.change([...followers(plan, part.name, figure.kind, figure.name, null), ...removed(part, figure)], `${this.title(figure)} removed`);
  }

  rename(name) {
    const figure = this.figure(), { part } = this, { plan } = this.desk.state;
    if (!figure || !name || name === figure.name) return null;
    const own = NESTED.has(figure.kind) ? { action: "set", kind: "parts", name: part.name, list: figure.kind, item: figure.name, values: { name } }
      : { action: "set", kind: figure.kind, name: figure.name, values: { name } };
    return this.desk.change([own, ...followers(plan, part.name, figure.kind, figure.name, name)], `${figure.name} named ${name}`)
      .then(done => done && this.choose(figure.key.replace(/[^/]*$/, "") + name));
  }

  title(figure) {
    return figure.kind === "outline" ? `outline of ${this.part.name}` : `${figure.name} on ${this.part.name}`;
  }

  // What was proposed goes; the shape is again as it is in the plan.
  giveUp() {
    this.set({ proposal: null, tool: null, trace: [] });
  }

  // --- adding ------------------------------------------------------------------------------------------------------

  begin(tool) {
    this.set({ tool, trace: [], figure: null, point: null, proposal: null });
  }

  // A point of what is being traced; answers whether that ended it.
  tap(at, part = this.part.name) {
    const { tool, trace } = this.now;
    if (tool.kind === "crossings") return this.tapCrossing(at, part);
    const points = [...trace, at];
    this.set({ trace: points });
    if (tool.form === "dot" || (tool.form === "pair" && points.length === 2)) return this.finish();
    return false;
  }

  tapCrossing(at_mm, part) {
    const ends = [...(this.now.tool.ends || []), { part, at_mm }];
    if (ends.length < 2) { this.set({ tool: { ...this.now.tool, ends }, trace: [at_mm] }); return false; }
    if (ends[0].part === part) { this.set({ tool: { ...this.now.tool, says: `That is again on ${part}: a crossing leads from one part to another.` } }); return false; }
    const { plan } = this.desk.state, name = freeFigureName(plan, this.part, "crossings");
    const n = ends.findIndex(end => end.part === this.part.name);
    return this.propose({ key: `crossings/${Math.max(0, n)}/${name}`, kind: "crossings", name, n: Math.max(0, n), form: "dot", points: [ends[Math.max(0, n)].at_mm], ends, item: { name, ends } });
  }

  back() {
    this.set({ trace: this.now.trace.slice(0, -1) });
  }

  canFinish() {
    const { tool, trace } = this.now;
    return Boolean(tool) && TRACED[tool.form] !== undefined && tool.kind !== "crossings" && trace.length >= TRACED[tool.form];
  }

  finish(points = this.now.trace) {
    const { tool } = this.now, { plan } = this.desk.state, { part } = this, { kind, form, of } = tool;
    const names = kind === "outline" ? "outline" : NESTED.has(kind) ? freeFigureName(plan, part, kind) : WORDS[kind];
    const opening = kind === "posts" ? part.openings.find(row => row.name === of) : null;
    const count = kind === "seams" ? part.seams_mm.length : kind === "posts" ? opening.posts_mm.length : part.relief[kind] ? part.relief[kind].length : 0;
    const key = kind === "outline" ? "outline" : NESTED.has(kind) ? `${kind}/${names}` : kind === "posts" ? `posts/${count}/${of}` : `${kind}/${count}`;
    return this.propose({ key, kind, name: NESTED.has(kind) || kind === "outline" ? names : `${names} ${count + 1}`, n: count, of, form, points, item: opening || {} });
  }

  // A new figure: written at once, or first asked for what must be known of it.
  async propose(figure, values = {}) {
    const { plan } = this.desk.state, { part } = this, fault = faultOf(plan, part, figure);
    const asks = (ASKED[figure.kind] || []).filter(key => values[key] === undefined);
    this.set({ tool: null, trace: [], figure: figure.key, point: null });
    if (fault || asks.length) { this.set({ proposal: { figure, fault, asks, values, fresh: figure.kind !== "outline" } }); return false; }
    const done = await this.write(figure, added(part, figure, values), `${this.title(figure)} drawn`);
    if (done) this.choose(figure.key);
    return done;
  }

  // One of a usual size in the middle of the part, for those who draw by keys.
  inTheMiddle() {
    const { tool } = this.now, [x, y, width, height] = boxed(this.part.outline_mm), at = [x + width / 2, y + height / 2].map(value => Math.round(value * 10) / 10);
    const half = Math.max(0.5, Math.round(Math.min(width, height) / 10));
    const box = [[at[0] - half, at[1] - half], [at[0] + half, at[1] - half], [at[0] + half, at[1] + half], [at[0] - half, at[1] + half]];
    if (tool.kind === "crossings") {
      const others = this.desk.state.plan.parts.filter(row => row.name !== this.part.name);
      if (!others.length) return null;
      const [ox, oy, w, h] = boxed(others[0].outline_mm);
      this.set({ tool: { ...tool, ends: [{ part: this.part.name, at_mm: at }] } });
      return this.tapCrossing([ox + w / 2, oy + h / 2], others[0].name);
    }
    const points = { ring: box, rect: box, disc: [at, [at[0] + half, at[1]]], dot: [at], line: [box[0], box[1]], pair: [[at[0] - half, at[1]], [at[0] + half, at[1]]] }[tool.form];
    return this.finish(points);
  }

  // --- an outline from the picture ---------------------------------------------------------------------------------

  async ask(tolerance = null) {
    const { part } = this, number = this.desk.state.plan.parts.indexOf(part);
    this.set({ offer: { part: part.name, working: true }, figure: null, point: null, tool: null, proposal: null });
    try {
      const { body } = await ask(`${this.desk.path}/parts/${number}/outline${tolerance ? `?tolerance_mm=${tolerance}` : ""}`);
      const taken = (body.openings_mm || []).map(hole => !part.openings.some(row => inside(centreOf(hole), row.shape)));
      this.set({ offer: { ...body, taken } });
    } catch (error) {
      this.set({ offer: { part: part.name, offered: false, text: error.message } });
    }
  }

  // Outline and holes as one step.
  async takeOffer() {
    const { offer } = this.now, { part } = this, outline = { ...this.figures()[0], points: offer.outline_mm };
    const holes = offer.openings_mm.filter((_, n) => offer.taken[n]);
    this.set({ offer: null, figure: "outline" });
    const fault = faultOf(this.desk.state.plan, part, outline);
    if (fault) { this.set({ proposal: { figure: outline, fault } }); return; }
    let grown = part;
    const openings = holes.flatMap(points => {
      const name = freeFigureName(this.desk.state.plan, grown, "openings");
      grown = { ...grown, openings: [...grown.openings, { name }] };
      return added(part, { kind: "openings", name, form: "ring", points });
    });
    await this.write(outline, [...written(part, outline), ...openings], `outline of ${part.name} taken from its picture`);
  }
}
