// From where lamps are seen (optics/toward.py and stages/outlook.py, number for number): what each sends towards an eye
// at a bearing, and which parts are seen from behind. Pure; the app and the page for showing use it alike.

const RAD = Math.PI / 180;

// The way (ahead, port, up) to an eye; bearings run clockwise from ahead.
export const wayTo = ({ bearing, height = 0 }) => {
  const turn = bearing * RAD, up = height * RAD;
  return [Math.cos(up) * Math.cos(turn), -Math.cos(up) * Math.sin(turn), Math.sin(up)];
};

const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const within = degrees => (degrees % 360 + 360) % 360;

// Share of a round lamp that is seen past a screen along the edges of its sector.
function screenedShare(bearing, [from, to], cut) {
  const wide = within(to - from) || 360, on = within(bearing - from), past = Math.min(on - wide, 360 - on);
  if (on <= wide || past <= 0) return 1;
  if (past >= cut) return 0;
  const across = 2 * Math.tan(past * RAD) / Math.tan(cut * RAD) - 1;
  return (Math.acos(across) - across * Math.sqrt(1 - across * across)) / Math.PI;
}

export function beamShare({ axis, order, edge_deg, arc_deg, cut_deg, side = 0 }, eye) {
  let share = 1;
  if (axis) {
    const cosine = dot(axis, eye);
    share = cosine > 1e-9 && cosine >= Math.cos(edge_deg * RAD) - 1e-12 ? Math.min(cosine, 1) ** order : 0;
    if (cosine >= -1e-9) share = Math.max(share, side);
  }
  if (!arc_deg || !share || Math.hypot(eye[0], eye[1]) < 1e-9) return share;
  return share * screenedShare(Math.atan2(-eye[1], eye[0]) / RAD, arc_deg, cut_deg);
}

// Shares of lamps by name, of flat ones the way to the eye along their drawing's x and y, and parts seen from behind, in a state.
export function outlookOf(round, state, from) {
  const eye = wayTo(from), turns = round.turns[state] || {};
  const eyeOf = part => { const m = turns[part]; return m ? [0, 1, 2].map(k => m[k] * eye[0] + m[k + 3] * eye[1] + m[k + 6] * eye[2]) : eye; };
  const each = round.beams.map(beam => beamShare(beam, eyeOf(beam.part)));
  const leans = round.beams.map(({ lies, part }) => lies && lies.map(way => dot(way, eyeOf(part)))), by = some => Object.fromEntries(Object.entries(round.beam_of).map(([lamp, n]) => [lamp, some[n]]));
  return {
    shares: by(each), leans: by(leans),
    behind: Object.entries(round.outer).filter(([part, way]) => dot(way, eyeOf(part)) < 1e-9).map(([part]) => part),
  };
}

// Places of a flat shape as narrow as an eye sees them (optics/toward.py), about the middle of `shape`.
export function seenAslant(points, lean, shape = points) {
  if (!points || !lean) return points;
  const [x, y] = [0, 1].map(k => { const of = shape.map(point => point[k]); return (Math.min(...of) + Math.max(...of)) / 2; }), [u, v] = lean, share = 1 / (1 + Math.sqrt(Math.max(0, 1 - u * u - v * v)));
  return points.map(([a, b]) => { const off = share * ((a - x) * u + (b - y) * v); return [a - off * u, b - off * v]; });
}

const said = value => `${Number(value.toPrecision(3))}`;

// 'ahead, 30 degrees to starboard, 10 degrees up'
export function wayWords({ bearing, height = 0 }) {
  const at = within(bearing), aside = Math.min(at, 360 - at), one = { 0: "ahead", 90: "starboard", 180: "astern", 270: "port" }[at];
  const words = one || `${aside < 90 ? `ahead, ${said(aside)}` : `astern, ${said(180 - aside)}`} degrees to ${at < 180 ? "starboard" : "port"}`;
  return height ? `${words}, ${said(Math.abs(height))} degrees ${height > 0 ? "up" : "down"}` : words;
}

// How many of the lit lamps send nothing there, in words.
export function darkWords(lit, shares) {
  const dark = lit.filter(lamp => shares[lamp] === 0).length;
  return dark === 0 ? `all ${lit.length} lit lamps send light there` : `${dark} of ${lit.length} lit lamps send no light there`;
}
