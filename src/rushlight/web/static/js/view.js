// The view of the sheet: millimetres of the world (y up) to pixels of the screen (y down). Pure.

export const LEAST_SCALE = 0.05;
export const MOST_SCALE = 200;

// Where the leaf lies below the sheet, as beside it there would be no room for either; the same in the style.
export const NARROW = "(max-width: 900px)";

export function toScreen(view, size, [x, y]) {
  return [size.width / 2 + (x - view.x) * view.scale, size.height / 2 - (y - view.y) * view.scale];
}

export function toWorld(view, size, [px, py]) {
  return [view.x + (px - size.width / 2) / view.scale, view.y - (py - size.height / 2) / view.scale];
}

// The point under the pointer stays where it is.
export function zoomAt(view, size, at, factor) {
  const scale = Math.min(MOST_SCALE, Math.max(LEAST_SCALE, view.scale * factor));
  const [wx, wy] = toWorld(view, size, at);
  return { x: wx - (at[0] - size.width / 2) / scale, y: wy + (at[1] - size.height / 2) / scale, scale };
}

export function panned(view, dx, dy) {
  return { ...view, x: view.x - dx / view.scale, y: view.y + dy / view.scale };
}

// The box fills what the plates at the edges leave free.
export function fitted(box, size, insets) {
  const free = {
    width: Math.max(80, size.width - insets.left - insets.right),
    height: Math.max(80, size.height - insets.top - insets.bottom),
  };
  const width = Math.max(box.right - box.left, 1e-6), height = Math.max(box.top - box.low, 1e-6);
  const scale = Math.min(MOST_SCALE, Math.max(LEAST_SCALE, Math.min(free.width / width, free.height / height)));
  const middle = [insets.left + free.width / 2, insets.top + free.height / 2];
  return {
    x: (box.left + box.right) / 2 - (middle[0] - size.width / 2) / scale,
    y: (box.low + box.top) / 2 + (middle[1] - size.height / 2) / scale,
    scale,
  };
}

export function boxOf(points) {
  const xs = points.map(point => point[0]), ys = points.map(point => point[1]);
  return { left: Math.min(...xs), right: Math.max(...xs), low: Math.min(...ys), top: Math.max(...ys) };
}

export function widened(box, by) {
  return { left: box.left - by, right: box.right + by, low: box.low - by, top: box.top + by };
}
