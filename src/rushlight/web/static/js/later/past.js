// Rasters of light that were worked out a moment ago: going back to a state is then only the curve at the end. The oldest go
// first when there are more planes than memory is worth. Pure.
const PLANES = 12; // of 5 MB at most

export class Past {
  constructor(most = PLANES) {
    this.most = most;
    this.made = new Map();
    this.of = null;
  }

  // What was made for this look, if it still follows from the same answer.
  get(of, look) {
    if (this.of !== of) this.made.clear();
    this.of = of;
    return this.made.get(look);
  }

  put(look, made) {
    this.made.delete(look);
    this.made.set(look, made);
    const planes = () => [...this.made.values()].flat().reduce((sum, layer) => sum + layer.planes.length, 0);
    while (this.made.size > 1 && planes() > this.most) this.made.delete(this.made.keys().next().value);
    return made;
  }
}
