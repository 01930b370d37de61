// The hand that draws on the part shown: it takes hold of points, edges and whole figures, and adds new ones.
import { bent, canInsert, edgesOf, inserted, shifted } from "./figures.js";
import { faultOf } from "./faults.js";
import { DRAWS_LONG_PX, paintDrawing } from "./paint-draw.js";
import { apart, areaOf, inside, nearestOnEdge } from "./shapes.js";
import { aroundOf, shiftHeld, snapped } from "./snap.js";

const REACH = { mouse: 14, pen: 16, touch: 24 };
const EDGE_PX = 8;
const HOLD_PX = 9;
const STILL_PX = 4;
const STEPS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

export class DrawHand {
  constructor(sheet, drawing) {
    this.sheet = sheet;
    this.drawing = drawing;
    this.alone = true;
    this.held = null;
    this.over = null;
  }

  // --- where things are on the screen ------------------------------------------------------------------------------

  screen(at) { return this.sheet.screenOf(this.drawing.part.name, at); }

  place(at) { return this.sheet.placeOf(this.drawing.part.name, at); }

  how(event) {
    const { holds, step_mm } = this.drawing.now;
    return { holds: event && event.shiftKey ? {} : holds, step: step_mm, reach: HOLD_PX / this.sheet.view.scale };
  }

  pointNear(figure, at, reach) {
    const away = figure.points.map(point => apart(this.screen(point), at)), least = Math.min(...away);
    return least <= reach ? away.indexOf(least) : null;
  }

  // The middle of an edge that is long enough to be taken hold of: a new point begins there.
  middleNear(figure, at, reach) {
    if (!canInsert(figure)) return null;
    const edge = edgesOf(figure).find(([a, b]) => {
      const [p, q] = [this.screen(figure.points[a]), this.screen(figure.points[b])];
      return apart(p, q) >= DRAWS_LONG_PX && apart([(p[0] + q[0]) / 2, (p[1] + q[1]) / 2], at) <= reach;
    });
    return edge ? edge[0] : null;
  }

  edgeNear(figure, at, reach) {
    const edge = edgesOf(figure).find(([a, b]) => apart(at, nearestOnEdge(at, [this.screen(figure.points[a]), this.screen(figure.points[b])])) <= reach);
    return edge ? edge[0] : null;
  }

  holds(figure, at) {
    if (figure.kind === "outline") return false;
    if (figure.form === "disc") return apart(figure.points[0], this.place(at)) <= apart(figure.points[0], figure.points[1]);
    return (figure.form === "ring" || figure.form === "rect") && inside(this.place(at), figure.points);
  }

  // What lies there: dots and lines first, then the smallest area, the outline last.
  figureNear(at, reach) {
    const figures = this.drawing.figures(), edge = row => this.pointNear(row, at, reach) !== null || this.edgeNear(row, at, EDGE_PX) !== null;
    const lines = figures.filter(row => ["dot", "pair", "line"].includes(row.form) && edge(row));
    const areas = figures.filter(row => row.kind !== "outline" && (this.holds(row, at) || (row.form !== "dot" && edge(row))));
    areas.sort((a, b) => Math.abs(areaOf(a.points)) - Math.abs(areaOf(b.points)));
    return lines[0] || areas[0] || figures.find(row => row.kind === "outline" && edge(row)) || null;
  }

  // --- the pointer -------------------------------------------------------------------------------------------------

  grab(sheet, at, event) {
    const { drawing } = this;
    if (!drawing.part) return null;
    const { tool } = drawing.now;
    if (tool) return tool.form === "rect" || tool.form === "disc" ? this.stretches(tool, at, event) : null;
    const figure = drawing.figure(), reach = REACH[event.pointerType] || REACH.mouse;
    if (!figure) return null;
    const n = this.pointNear(figure, at, reach);
    if (n !== null) return this.bends(figure, n, at, `${drawing.title(figure)} mended`);
    const edge = this.middleNear(figure, at, reach * 0.8);
    if (edge !== null) return this.bends(inserted(figure, edge, this.place(at)), edge + 1, at, `point put into ${drawing.title(figure)}`);
    if (this.edgeNear(figure, at, EDGE_PX) !== null || this.holds(figure, at)) return this.shifts(figure, at);
    return null;
  }

  bends(figure, n, from, what) {
    return this.drags(from, (at, event) => {
      const { drawing } = this, around = aroundOf(drawing.figures(), figure, n, drawing.middle());
      const now = snapped(this.place(at), around, this.how(event));
      return { figure: bent(figure, n, now.at), n, words: now.words, guides: now.guides };
    }, held => { this.drawing.set({ point: n }); return this.drawing.put(held.figure, what); }, () => this.drawing.set({ point: figure.points.length === this.drawing.figure().points.length ? n : null }));
  }

  shifts(figure, from) {
    const start = this.place(from), { drawing } = this;
    return this.drags(from, (at, event) => {
      const to = this.place(at), around = aroundOf(drawing.figures(), figure, null, drawing.middle());
      const { by, words } = shiftHeld(figure, [to[0] - start[0], to[1] - start[1]], around, this.how(event));
      return { figure: shifted(figure, by), n: null, words, guides: [] };
    }, held => drawing.put(held.figure, `${drawing.title(figure)} moved`));
  }

  // A rectangle from corner to corner, a disc from its centre to its rim.
  stretches(tool, from, event) {
    const { drawing } = this, bare = { key: "", kind: tool.kind, form: tool.form, points: [this.place(from)] };
    const start = snapped(this.place(from), aroundOf(drawing.figures(), { ...bare, points: [] }, null, drawing.middle()), this.how(event)).at;
    return this.drags(from, (at, moved) => {
      const now = snapped(this.place(at), aroundOf(drawing.figures(), { ...bare, points: [start] }, null, drawing.middle()), this.how(moved));
      const [x, y] = now.at, points = tool.form === "disc" ? [start, now.at] : [start, [x, start[1]], now.at, [start[0], y]];
      return { figure: { ...bare, points }, n: tool.form === "disc" ? 1 : 2, words: now.words, guides: now.guides };
    }, held => drawing.finish(held.figure.points));
  }

  drags(from, follow, done, tapped = null) {
    let moved = false;
    return {
      moved: (at, event) => {
        if (!moved && apart(at, from) < STILL_PX) return;
        moved = true;
        const { plan } = this.drawing.desk.state, held = follow(at, event);
        this.held = { ...held, at, fault: faultOf(plan, this.drawing.part, held.figure), touch: event.pointerType === "touch" };
        this.lift(held.figure.key);
      },
      dropped: () => {
        const { held } = this;
        this.lift(null);
        this.held = null;
        if (moved && held) done(held);
        else if (tapped) tapped();
      },
      cancelled: () => { this.held = null; this.lift(null); },
    };
  }

  // What the hand holds is drawn by the hand; where it was stays as a thin line.
  lift(key) {
    this.sheet.lifted = key === null ? null : { part: this.drawing.part.name, key };
    this.sheet.draw();
  }

  tapped(sheet, at, event) {
    const { drawing } = this;
    if (!drawing.part) return false;
    const { tool } = drawing.now;
    if (tool) { this.taps(tool, at, event); return true; }
    const found = this.figureNear(at, REACH[event.pointerType] || REACH.mouse);
    if (found) { drawing.choose(found.key); return true; }
    const under = sheet.partUnder(at);
    if (under && under.part !== drawing.part.name) drawing.goTo(under.part);
    else drawing.choose(null);
    return true;
  }

  taps(tool, at, event) {
    const { drawing, sheet } = this, { trace } = drawing.now, reach = REACH[event.pointerType] || REACH.mouse;
    if (tool.kind === "crossings") {
      const under = sheet.partUnder(at);
      if (under) drawing.tap(under.at, under.part);
      return;
    }
    if (tool.form === "rect" || tool.form === "disc") return;
    if (tool.form === "ring" && trace.length >= 3 && apart(this.screen(trace[0]), at) <= reach) { drawing.finish(); return; }
    const last = trace[trace.length - 1];
    if (last && apart(this.screen(last), at) < STILL_PX) { if (tool.form === "line" && drawing.canFinish()) drawing.finish(); return; }
    drawing.tap(this.next(at, event).at);
  }

  next(at, event) {
    const { drawing } = this, { tool, trace } = drawing.now;
    const figure = { key: "", kind: tool.kind, form: tool.form, points: trace };
    return snapped(this.place(at), aroundOf(drawing.figures(), figure, null, drawing.middle()), this.how(event));
  }

  doubled(sheet, at) {
    const { drawing } = this, figure = drawing.part && drawing.figure();
    if (!drawing.part) return false;
    if (drawing.now.tool || !figure || !canInsert(figure) || this.pointNear(figure, at, REACH.mouse) !== null) return true;
    const edge = this.edgeNear(figure, at, EDGE_PX);
    if (edge !== null) drawing.insert(edge, this.place(at));
    return true;
  }

  hover(sheet, at, event) {
    const { drawing } = this;
    if (!drawing.part) return null;
    this.over = { at, ...this.under(at, event) };
    sheet.draw();
    return this.over.cursor;
  }

  under(at, event) {
    const { drawing } = this, { tool } = drawing.now, figure = drawing.figure();
    if (tool) return tool.kind === "crossings" ? { cursor: "crosshair" } : { cursor: "crosshair", next: this.next(at, event) };
    if (figure) {
      const n = this.pointNear(figure, at, REACH.mouse);
      if (n !== null) return { cursor: "grab", n };
      const edge = this.middleNear(figure, at, REACH.mouse * 0.8);
      if (edge !== null) return { cursor: "copy", edge };
      if (this.edgeNear(figure, at, EDGE_PX) !== null || this.holds(figure, at)) return { cursor: "move" };
    }
    const found = this.figureNear(at, REACH.mouse);
    return found ? { cursor: "pointer", figure: found } : { cursor: "default" };
  }

  left(sheet) {
    this.over = null;
    sheet.draw();
  }

  // --- keys --------------------------------------------------------------------------------------------------------

  key(sheet, event) {
    const { drawing } = this, { now } = drawing;
    if (!drawing.part || event.ctrlKey || event.metaKey) return false;
    if (event.key === "Escape") return this.escapes(now);
    const within = places => Boolean(event.target.closest && event.target.closest(places));
    const onSheet = !within(".leaf, .margin, .foot, .thumbs, .head, .toolwords");
    if (!onSheet && !within(".drawn")) return false;
    const step = STEPS[event.key];
    if (step && now.figure) {
      const far = event.shiftKey ? 10 : event.altKey ? 0.1 : 1;
      drawing.shift([step[0] * far, step[1] * far]);
      return true;
    }
    if (event.key === "Delete" || event.key === "Backspace") return this.deletes(now);
    if (event.key === "Enter" && onSheet && now.tool) return this.enters(now);
    return false;
  }

  escapes(now) {
    if (this.sheet.hands.grip) { this.sheet.hands.letGo(); return true; }
    if (now.tool || now.proposal) { this.drawing.giveUp(); return true; }
    if (now.point !== null) { this.drawing.set({ point: null }); return true; }
    if (now.figure) { this.drawing.choose(null); return true; }
    return false;
  }

  deletes(now) {
    if (now.tool) this.drawing.back();
    else if (now.point !== null && now.figure) this.drawing.take(now.point);
    else if (now.figure) this.drawing.remove();
    else return false;
    return true;
  }

  enters(now) {
    if (this.drawing.canFinish()) this.drawing.finish();
    else if (!now.trace.length) this.drawing.inTheMiddle();
    return true;
  }

  paint(sheet, room) {
    if (this.drawing.part) paintDrawing(sheet, room, this);
  }
}
