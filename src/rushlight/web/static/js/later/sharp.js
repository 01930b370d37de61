// The sharp picture by night is worked out beside the page, so that no hand waits for it: one at a time, then the newest that was asked for.

const MOST = 3; // planes of red, green and blue

// Each makes its planes; the page waits meanwhile, so its core is theirs too.
const started = () => Array.from({ length: Math.min(navigator.hardwareConcurrency || 1, MOST) }, () => new Worker(new URL("./sharp-worker.js", import.meta.url), { type: "module" }));

// `done(look, made, of)`: layers of a look; null where the browser has no such workers.
export class Sharp {
  constructor(done, workers = started()) {
    Object.assign(this, { done, workers, at: null, next: null, broken: false, parts: [] });
    workers.forEach((worker, n) => {
      worker.onmessage = ({ data }) => this.partCame(n, data);
      worker.onerror = () => { this.broken = true; this.came(null); };
    });
  }

  // `given`: what `layers` wants. What follows from the same answer `of` may be kept.
  ask(look, given, of) {
    this.next = this.at && this.at.look === look && this.at.of === of ? null : { look, given, of };
    this.send();
  }

  send() {
    if (this.at || !this.next) return;
    [this.at, this.next, this.parts] = [this.next, null, []];
    if (this.broken) this.came(null);
    else this.workers.forEach((worker, n) => worker.postMessage([...this.at.given, [n, this.workers.length]]));
  }

  partCame(n, made) {
    if (!this.at) return;
    const { parts, workers: { length } } = this;
    parts[n] = made;
    if (Object.keys(parts).length < length) return;
    let count = 0;
    this.came(parts[0].map((layer, k) => ({ ...layer, planes: layer.planes.map((_, m) => parts[count++ % length][k].planes[m]) })));
  }

  came(made) {
    if (!this.at) return;
    const { look, of } = this.at;
    this.at = null;
    this.done(look, made, of);
    this.send();
  }
}
