// The page's own script: states, the room light, rhythms. The app's pure modules stand before it.
const lit = JSON.parse(document.getElementById("lit").textContent), sheet = document.getElementById("sheet"), root = document.documentElement;
const light = document.getElementById("light"), play = document.getElementById("play");
const lamps = new Map([...sheet.querySelectorAll(".lamps > g")].map(group => [group.id.slice(1), { group, glow: group.querySelector(".glow"), core: group.querySelector(".core") }]));
let state = lit.states[0], clock = null;

const rgb = hex => [1, 3, 5].map(at => parseInt(hex.slice(at, at + 2), 16));

function dark() { return roomColours(Number(light.value)).glow; }

// One lamp at a share of its light, 0 to 1.
function lay(number, share) {
  const lamp = lamps.get(number), found = state.lamps[number];
  if (!lamp) return;
  const level = found ? found[0] * share : 0, seen = level * dark();
  lamp.group.dataset.lit = level;
  lamp.group.setAttribute("opacity", found && found[0] > 0 ? 1 : 0.5);
  lamp.glow.setAttribute("opacity", seen.toFixed(4));
  lamp.core.setAttribute("fill", level > 0 ? css(mixed(roomColours(Number(light.value)).sheet, rgb(found[1]), share * dark())) : "none");
}

function laidAll() {
  const room = Number(light.value), colours = roomColours(room);
  root.dataset.plate = plate(room);
  sheet.style.setProperty("--sheet", css(colours.sheet));
  sheet.style.setProperty("--drawn", css(colours.ink));
  sheet.style.setProperty("--named", room >= SWITCH_AT ? css(INK) : "#ece3d4");
  sheet.style.setProperty("--photo", colours.picture);
  for (const number of lamps.keys()) lay(number, 1);
  const on = Object.values(state.lamps).filter(([level]) => level > 0).length;
  document.getElementById("says").textContent = `State: ${state.name}. Room: ${roomWords(room)}. ${on} of ${lit.all} lamps lit.`;
  document.getElementById("now").textContent = roomWords(room);
  light.setAttribute("aria-valuetext", roomWords(room));
}

function frame() {
  if (clock === null) return;
  for (const [number, text] of Object.entries(lit.rhythm_of)) {
    const lamp = lamps.get(number), found = state.lamps[number];
    lay(number, levelAt(lit.rhythms[text], clock.seconds));
    if (lamp && found && found[0] > 0 && dark() > 0.01) clock.flashing.push([lit.rhythms[text], boxPx2(lamp.glow)]);
  }
  clock.tick(pace => { document.getElementById("pace").textContent = paceWords(pace); });
  requestAnimationFrame(frame);
}

function boxPx2(element) {
  const box = element.getBoundingClientRect();
  return box.width * box.height;
}

function played(on) {
  clock = on ? new Clock() : null;
  document.getElementById("pace").textContent = "";
  const slowed = Object.values(lit.rhythms).some(rhythm => rhythm.slowed > 1.001);
  play.textContent = on ? `Stop the rhythms${slowed ? " (some slowed to be safe to look at)" : ""}` : "Play the rhythms";
  play.setAttribute("aria-pressed", on);
  if (on) requestAnimationFrame(frame); else laidAll();
}

document.getElementById("controls").addEventListener("submit", event => event.preventDefault());
for (const one of document.querySelectorAll("input[name=state]")) {
  one.addEventListener("change", () => { state = lit.states[Number(one.value)]; laidAll(); });
  if (one.checked) state = lit.states[Number(one.value)];
}
light.addEventListener("input", laidAll);
if (play) play.addEventListener("click", () => played(clock === null));
document.addEventListener("visibilitychange", () => { if (document.hidden && clock !== null) played(false); });
laidAll();
root.dataset.ready = "yes";
