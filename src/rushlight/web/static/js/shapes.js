// Plane shapes: areas, crossings, what lies inside, nearest places. Pure; millimetres.

export const cornersOf = ([x, y, width, height]) => [[x, y], [x + width, y], [x + width, y + height], [x, y + height]];

export const apart = (a, b) => Math.hypot(a[0] - b[0], a[1] - b[1]);

export function areaOf(points) {
  let sum = 0;
  points.forEach(([x, y], n) => {
    const [p, q] = points[(n + 1) % points.length];
    sum += x * q - p * y;
  });
  return sum / 2;
}

export function nearestOnEdge([x, y], [a, b]) {
  const dx = b[0] - a[0], dy = b[1] - a[1], length2 = dx * dx + dy * dy;
  const share = length2 ? Math.min(1, Math.max(0, ((x - a[0]) * dx + (y - a[1]) * dy) / length2)) : 0;
  return [a[0] + share * dx, a[1] + share * dy];
}

// By the number of edges to the right of the point: odd is inside.
export function inside([x, y], points) {
  let odd = false;
  points.forEach(([ax, ay], n) => {
    const [bx, by] = points[(n + 1) % points.length];
    if ((ay > y) !== (by > y) && x < ax + (y - ay) / (by - ay) * (bx - ax)) odd = !odd;
  });
  return odd;
}

export function edgePairs(points, closed = true) {
  return points.slice(0, closed ? undefined : -1).map((point, n) => [point, points[(n + 1) % points.length]]);
}

export function awayFrom(point, points, closed = true) {
  return Math.min(...edgePairs(points, closed).map(edge => apart(point, nearestOnEdge(point, edge))));
}

const side = ([ax, ay], [bx, by], [x, y]) => (bx - ax) * (y - ay) - (by - ay) * (x - ax);

// Where two edges meet, or null; edges that lie on one line meet where the one ends in the other.
export function meeting([a, b], [c, d]) {
  const p = side(c, d, a), q = side(c, d, b), r = side(a, b, c), s = side(a, b, d);
  if (((p > 0 && q < 0) || (p < 0 && q > 0)) && ((r > 0 && s < 0) || (r < 0 && s > 0))) {
    const share = p / (p - q);
    return [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
  }
  const near = 1e-9;
  const ends = [[a, [c, d]], [b, [c, d]], [c, [a, b]], [d, [a, b]]];
  const touching = ends.find(([point, edge]) => apart(point, nearestOnEdge(point, edge)) < near);
  return touching ? touching[0] : null;
}

// The first place where a ring meets itself other than from edge to next edge, or null.
export function selfCrossing(points) {
  const edges = edgePairs(points), count = edges.length;
  for (let i = 0; i < count; i += 1) for (let j = i + 1; j < count; j += 1) {
    const next = j === i + 1, last = i === 0 && j === count - 1;
    if (next || last) {
      const [before, corner, after] = next ? [edges[i][0], edges[i][1], edges[j][1]] : [edges[j][0], edges[j][1], edges[i][1]];
      if (foldsBack(before, corner, after)) return { at: corner, edges: [i, j] };
      continue;
    }
    const at = meeting(edges[i], edges[j]);
    if (at) return { at, edges: [i, j] };
  }
  return null;
}

function foldsBack(before, corner, after) {
  const p = [before[0] - corner[0], before[1] - corner[1]], q = [after[0] - corner[0], after[1] - corner[1]];
  const cross = p[0] * q[1] - p[1] * q[0], dot = p[0] * q[0] + p[1] * q[1];
  return dot > 0 && Math.abs(cross) < 1e-9 * Math.max(1, Math.hypot(...p) * Math.hypot(...q));
}

export function centreOf(points) {
  const xs = points.map(point => point[0]), ys = points.map(point => point[1]);
  return [(Math.min(...xs) + Math.max(...xs)) / 2, (Math.min(...ys) + Math.max(...ys)) / 2];
}
