// The sharp picture by night is worked out beside the page, so that no hand waits for it: one at a time, then the newest that was asked for.

// `done(look, made, of)`: layers of a look; null where the browser has no such worker.
export class Sharp {
  constructor(done, worker = new Worker(new URL("./sharp-worker.js", import.meta.url), { type: "module" })) {
    Object.assign(this, { done, worker, at: null, next: null, broken: false });
    worker.onmessage = ({ data }) => this.came(data);
    worker.onerror = () => { this.broken = true; this.came(null); };
  }

  // `given`: what `layers` wants. What follows from the same answer `of` may be kept.
  ask(look, given, of) {
    this.next = this.at && this.at.look === look && this.at.of === of ? null : { look, given, of };
    this.send();
  }

  send() {
    if (this.at || !this.next) return;
    [this.at, this.next] = [this.next, null];
    if (this.broken) this.came(null);
    else this.worker.postMessage(this.at.given);
  }

  came(made) {
    if (!this.at) return;
    const { look, of } = this.at;
    this.at = null;
    this.done(look, made, of);
    this.send();
  }
}
