// How bright a lamp is wanted and what makes it, as forms have it and as the plan keeps it. Pure.
import { itemsOf } from "../items.js";

export const WAYS = [["room", "plain to see in the room of the subject"], ["like", "as bright as another lamp, or so many times"], ["mcd", "so many millicandela on the model"],
  ["cd", "the subject's own candela, carried to the scale"], ["seen", "plain to see in a room of its own choice"]];

export const CARRIES = [["equal illuminance", "by equal illuminance: as a far point of light"], ["equal luminance", "by equal luminance: as a glowing surface"]];
export const ROOMS = [["lit room", "a lit room"], ["dim room", "a dim room"], ["dark room", "a dark room"], ["beacon", "as a beacon: draws the eye, ten times plain"]];
export const MADE = [["", "as the design chooses"], ["led", "LED at the hole"], ["fibre", "fibre"], ["room", "LED in a room behind an opening"], ["strip", "strip behind openings in a line"]];

export const wayOf = wish => !wish ? "room" : wish.like ? "like" : wish.intensity_mcd ? "mcd" : wish.subject_intensity_cd ? "cd" : wish.seen_in ? "seen" : "room";

// As the plan keeps it: what is as when left out is left out; a note stays.
export function wished(held, values) {
  const note = held && held.note ? { note: held.note } : {}, { ratio, carry, ...rest } = values;
  const whole = { ...rest, ...(ratio && ratio !== 1 ? { ratio } : {}), ...(carry && carry !== "equal illuminance" ? { carry } : {}), ...note };
  return Object.keys(whole).length ? whole : null;
}

export function wishWords(wish, subject) {
  const way = wayOf(wish), room = word => word === "beacon" ? "as a beacon" : `in a ${word}`;
  if (way === "like") return (wish.ratio ?? 1) === 1 ? `as bright as ${wish.like}` : `${wish.ratio} times as bright as ${wish.like}`;
  if (way === "mcd") return `${wish.intensity_mcd} mcd on the model`;
  if (way === "cd") return `${wish.subject_intensity_cd} cd of the subject, by ${wish.carry || "equal illuminance"}`;
  return `to be seen ${room(way === "seen" ? wish.seen_in : subject.viewing_room)}`;
}

// Others that it may be as bright as; a circle is refused by the reader.
export const othersOf = (plan, item) => itemsOf(plan).map(row => row.item.name).filter(name => name !== item.name);

export function madeWords(item, plan, kind) {
  const made = kind === "strips" ? "" : !item.source ? "as the design chooses" : { led: "an LED at the hole", fibre: "fibre", room: "an LED in a room", strip: "a strip" }[item.source.kind];
  const seen = item.opening ? `seen through ${item.opening}` : "";
  const sector = item.arc_deg ? `shows ${item.arc_deg[0]} to ${item.arc_deg[1]} deg` : "";
  return [made, seen, item.rule ? `rule ${item.rule}` : "", sector].filter(Boolean).join("; ");
}

export const TIPS = [["polished", "polished: narrow, for whom it points at"], ["sanded", "sanded: dimmer, seen from all sides"], ["domed", "melted to a bead and matted: dimmer, from its side too"]];

// The insistence with one key changed; of another kind it begins anew.
export function insisted(held, values) {
  const { kind, led, fibre_mm, tip, note } = { ...(held || {}), ...values };
  if (!kind) return null;
  return { kind, ...(led ? { led } : {}), ...(fibre_mm && kind === "fibre" ? { fibre_mm } : {}), ...(tip && tip !== "polished" && kind === "fibre" ? { tip } : {}), ...(note ? { note } : {}) };
}

// The sector with one end typed; both are needed.
export function sectorOf(held, n, value) {
  const now = [...(held || [null, null])];
  now[n] = value;
  return now;
}
