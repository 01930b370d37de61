// The time of the rhythms that play: it runs no faster than all that flashes together may be looked at.
import { safePace } from "./rhythm.js";

export class Clock {
  constructor(now = () => performance.now()) {
    this.now = now;
    this.begin();
  }

  begin() {
    this.seconds = 0;
    this.last = null;
    this.pace = null;
    this.flashing = []; // rhythm and area of each lamp that the last frame showed
  }

  // After each frame; the first one only looks at what there is to flash.
  tick(told = () => {}) {
    const now = this.now(), pace = this.paceOf(this.flashing);
    if (pace !== this.pace) { this.pace = pace; told(pace); }
    if (this.last !== null) this.seconds += pace * (now - this.last) / 1000;
    this.last = now;
    this.flashing = [];
  }

  // Worked out anew only when what flashes, or its size, is not what it was.
  paceOf(flashing) {
    const area = flashing.reduce((sum, [, px2]) => sum + px2, 0), rhythms = new Set(flashing.map(([rhythm]) => rhythm));
    const same = this.known && this.known.area === area && this.known.rhythms.size === rhythms.size && [...rhythms].every(one => this.known.rhythms.has(one));
    if (!same) this.known = { area, rhythms, pace: safePace(flashing) };
    return this.known.pace;
  }
}
