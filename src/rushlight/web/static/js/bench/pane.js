// Where a drawing lies in its pane: zoomed about a point, and never out of sight. Pure.

export const MOST = 12;

// About a point of the pane, so that what lies under the fingers stays there.
export function zoomed(view, by, [px, py]) {
  const scale = Math.min(MOST, Math.max(1, view.scale * by)), share = scale / view.scale;
  return { scale, x: px - (px - view.x) * share, y: py - (py - view.y) * share };
}

// A side that is smaller than the pane is centred; a larger one covers it.
export function held({ scale, x, y }, { pane, drawn }) {
  const along = (at, room, size) => size <= room ? (room - size) / 2 : Math.min(0, Math.max(room - size, at));
  return { scale, x: along(x, pane[0], drawn[0] * scale), y: along(y, pane[1], drawn[1] * scale) };
}
