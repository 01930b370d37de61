// A picture on the screen: its pixels (y down) turned and mirrored as it will lie, moved and scaled. Pure.

export const MOST_SCALE = 40;

// How a way of the screen runs on the picture, and back: a turn (anticlockwise as seen) after a change of left and right.
export function ways(turned, mirrored) {
  const a = turned * Math.PI / 180, c = Math.cos(a), s = Math.sin(a), side = mirrored ? -1 : 1;
  return { forth: [[c * side, s], [-s * side, c]], back: [[c * side, -s * side], [s, c]] };
}

const times = ([[a, b], [c, d]], [x, y]) => [a * x + b * y, c * x + d * y];

export function pixelToScreen(view, size, [x, y]) {
  const [u, v] = times(view.ways.forth, [x - view.x, y - view.y]);
  return [size.width / 2 + u * view.scale, size.height / 2 + v * view.scale];
}

export function screenToPixel(view, size, [px, py]) {
  const [x, y] = times(view.ways.back, [(px - size.width / 2) / view.scale, (py - size.height / 2) / view.scale]);
  return [view.x + x, view.y + y];
}

export const wayOnPicture = (view, way) => times(view.ways.back, way);

export function fittedPicture(picture, size, turned, mirrored, margin = 24) {
  const found = ways(turned, mirrored);
  const corners = [[0, 0], [picture[0], 0], picture, [0, picture[1]]].map(corner => times(found.forth, corner));
  const spread = n => Math.max(...corners.map(corner => corner[n])) - Math.min(...corners.map(corner => corner[n]));
  const scale = Math.min((size.width - 2 * margin) / spread(0), (size.height - 2 * margin) / spread(1));
  return { x: picture[0] / 2, y: picture[1] / 2, scale: Math.max(scale, 1e-4), ways: found };
}

// What lies under the pointer stays there.
export function zoomedPicture(view, size, at, factor, least = 1e-3) {
  const scale = Math.min(MOST_SCALE, Math.max(least, view.scale * factor));
  const under = screenToPixel(view, size, at), now = screenToPixel({ ...view, scale }, size, at);
  return { ...view, scale, x: view.x + under[0] - now[0], y: view.y + under[1] - now[1] };
}

export function pannedPicture(view, dx, dy) {
  const [x, y] = times(view.ways.back, [dx / view.scale, dy / view.scale]);
  return { ...view, x: view.x - x, y: view.y - y };
}

// Millimetres apart for the lines of a grid that stay readable: 1, 2 or 5 times a power of ten.
export function gridStep(mm_per_px, scale, apart = 46) {
  const least = mm_per_px * apart / scale, power = 10 ** Math.floor(Math.log10(least));
  return [1, 2, 5, 10].map(n => n * power).find(step => step >= least);
}
