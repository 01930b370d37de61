// How moving parts stand in a state: the door before an opening, what hangs or stands over a part's outer face. Pure.
import { boxOf } from "./view.js";

// As the state says, else its first pose; null for a part that has none. As `pose_in` of the engine.
export function poseIn(plan, part, state) {
  const poses = (plan.parts.find(row => row.name === part) || { poses: [] }).poses;
  const found = plan.states.find(row => row.name === state), said = found && found.poses.find(pose => pose.part === part);
  return (said && poses.find(pose => pose.name === said.at)) || poses[0] || null;
}

// The changes that give a part these poses; states follow a pose that is renamed, and forget one that is gone.
export function posesChanged(plan, part, poses, renamed = {}) {
  const known = new Set(poses.map(pose => pose.name));
  const states = plan.states.flatMap(row => {
    const next = row.poses.flatMap(pose => pose.part !== part ? [pose] : [{ ...pose, at: renamed[pose.at] || pose.at }].filter(now => known.has(now.at)));
    return JSON.stringify(next) === JSON.stringify(row.poses) ? [] : [{ action: "set", kind: "states", name: row.name, values: { poses: next } }];
  });
  return [{ action: "set", kind: "parts", name: part, values: { poses } }, ...states];
}

// The change that says how a part stands in a state.
export function stoodIn(plan, part, state, at) {
  const { poses } = plan.states.find(row => row.name === state), others = poses.filter(pose => pose.part !== part);
  return [{ action: "set", kind: "states", name: state, values: { poses: [...others, { part, at }] } }];
}

const cornersOfShape = item => {
  if (item.rect_mm) { const [x, y, width, height] = item.rect_mm; return [[x, y], [x + width, y], [x + width, y + height], [x, y + height]]; }
  if (item.centre_mm && item.radius_mm) return Array.from({ length: 24 }, (_, n) => [item.centre_mm[0] + item.radius_mm * Math.cos(n * Math.PI / 12), item.centre_mm[1] + item.radius_mm * Math.sin(n * Math.PI / 12)]);
  return item.outline_mm || [];
};

// The ground of an obstacle as it stands in a state.
export function standsAt(plan, obstacle, state) {
  const corners = cornersOfShape(obstacle), pose = obstacle.moves_with ? poseIn(plan, obstacle.moves_with, state) : null;
  if (!pose || !pose.value) return corners;
  const way = (obstacle.pivot_mm ? pose.value : obstacle.slide_deg || 0) * Math.PI / 180, [c, s] = [Math.cos(way), Math.sin(way)];
  if (!obstacle.pivot_mm) return corners.map(([x, y]) => [x + pose.value * c, y + pose.value * s]);
  const [u, v] = obstacle.pivot_mm;
  return corners.map(([x, y]) => [u + (x - u) * c - (y - v) * s, v + (x - u) * s + (y - v) * c]);
}

// What is seen of an opening past its door: corners in mm, none where it is shut.
export function freeShape(plan, opening, state) {
  const door = doorAt(plan, opening, state);
  if (!door || !door.covers) return opening.shape;
  const { left, right, low, top } = boxOf(opening.shape), covered = boxOf(door.covers), axis = covered.left === left && covered.right === right ? 1 : 0;
  const ends = axis ? [low, top] : [left, right], hidden = axis ? [covered.low, covered.top] : [covered.left, covered.right];
  if (hidden[0] <= ends[0] && hidden[1] >= ends[1]) return [];
  const above = hidden[0] <= ends[0], limit = above ? hidden[1] : hidden[0];
  return opening.shape.flatMap((a, n) => {
    const b = opening.shape[(n + 1) % opening.shape.length], kept = (above ? a[axis] >= limit : a[axis] <= limit) ? [a] : [];
    if ((a[axis] - limit) * (b[axis] - limit) >= 0) return kept;
    const part = (limit - a[axis]) / (b[axis] - a[axis]);
    return [...kept, [a[0] + part * (b[0] - a[0]), a[1] + part * (b[1] - a[1])]];
  });
}

// Where a door lies before its opening, looked at square on: {covers, leaf}, corners in mm; null for what is not there.
export function doorAt(plan, opening, state) {
  if (!opening.door) return null;
  const pose = poseIn(plan, opening.door.part, state), value = pose ? Math.abs(pose.value) : 0;
  const { left, right, low, top } = boxOf(opening.shape), across = opening.door.edge === "left" || opening.door.edge === "right";
  const from = { left, right, bottom: low, top }[opening.door.edge], far = { left: right, right: left, bottom: top, top: low }[opening.door.edge];
  const band = (a, b) => a === b ? null : across ? [[a, low], [b, low], [b, top], [a, top]] : [[left, a], [right, a], [right, b], [left, b]];
  const whole = far - from;
  if (opening.door.moves === "slides") {
    const share = Math.min(1, value / Math.abs(whole));
    return { covers: band(from, far - whole * share), leaf: band(from - whole * share, far - whole * share) };
  }
  const reach = Math.cos(Math.min(value, 180) * Math.PI / 180);
  const end = Math.abs(reach) < 1e-9 ? from : from + whole * reach;
  return { covers: reach > 1e-9 ? band(from, end) : null, leaf: band(from, end) };
}
