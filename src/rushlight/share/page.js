// The page's own script: states, the room light, rhythms. The app's pure modules stand before it.
const lit = JSON.parse(document.getElementById("lit").textContent), sheet = document.getElementById("sheet"), root = document.documentElement;
const light = document.getElementById("light"), play = document.getElementById("play"), night = document.getElementById("night");
const groups = new Map([...sheet.querySelectorAll(".lamps > g")].map(group => [group.id.slice(1), group]));
const PX_PER_MM = 5, NARROW_PX_PER_MM = 2.5; // the book's own; half of it on a small screen
const turn = document.getElementById("turn"), square = document.getElementById("square"), plans = lit.picture.seen_from;
let state = lit.states[0], clock = null, made = [], shown = "", from = plans && { bearing: plans[0], height: plans[1] };

const density = sheet.getBoundingClientRect().width < 600 ? NARROW_PX_PER_MM : PX_PER_MM;
const [wide, high] = lit.sheet_mm.map(mm => Math.max(1, Math.round(mm * density)));
night.width = wide;
night.height = high;
const pen = night.getContext("2d"), image = new ImageData(wide, high), sum = [0, 1, 2].map(() => new Float32Array(wide * high));
const inside = ([x, y]) => [x * density, high - y * density];

// --- the parts' pictures under the light ---------------------------------------------------------------------------

const photos = [...sheet.querySelectorAll(".photo")].map(of => {
  const held = new Image(), box = ["x", "y", "width", "height"].map(name => Number(of.getAttribute(name)));
  const clip = sheet.querySelector(of.parentNode.getAttribute("clip-path").slice(4, -1)).firstElementChild.getAttribute("d");
  held.onload = () => { shown = ""; drawn(); };
  held.src = of.getAttribute("href");
  return { held, box, clip: new Path2D(clip), turned: of.hasAttribute("transform") };
});
const ground = photos.length ? Object.assign(document.createElement("canvas"), { width: wide, height: high }).getContext("2d", { willReadFrequently: true }) : null;

function groundUnder(colours) {
  if (!ground) return null;
  ground.setTransform(density, 0, 0, density, 0, 0);
  ground.globalAlpha = 1;
  ground.fillStyle = css(colours.sheet);
  ground.fillRect(0, 0, wide, high);
  for (const { held, box: [x, y, width, height], clip, turned } of photos) {
    if (!held.complete || !held.naturalWidth) continue;
    ground.save();
    ground.clip(clip);
    ground.globalAlpha = colours.picture;
    if (turned) ground.transform(-1, 0, 0, 1, 2 * x + width, 0);
    ground.drawImage(held, x, y, width, height);
    ground.restore();
  }
  return ground.getImageData(0, 0, wide, high).data;
}

// --- the picture ---------------------------------------------------------------------------------------------------

// What reaches the viewer's place; square on there is nothing to know.
const lookedAt = () => from ? outlookOf({ ...lit.picture.round, beam_of: lit.beam_of }, state.name, from) : { shares: {}, leans: {}, behind: [] };

// The light of the state: once for each state, and once more when its rhythms begin or end.
function laidAnew() {
  const { shares, leans, behind } = lookedAt();
  const seen = Object.entries(lit.lamps).filter(([number]) => state.mcd[number] > 0 && shares[number] !== 0 && !state.behind.includes(Number(number)));
  const shapeOf = (number, lamp) => state.shapes[number] || lamp.shape;
  const lamps = seen.map(([number, lamp]) => ({
    at: inside(lamp.at), radius: lamp.radius * density, shape: lamp.shape.length ? seenAslant(shapeOf(number, lamp), leans[number]).map(inside) : null, xy: lamp.xy || lit.picture.hues[lamp.colour],
    bands: lamp.bands || null, ends: lamp.ends && seenAslant(lamp.ends, leans[number], shapeOf(number, lamp)).map(inside), lean: leans[number] && [leans[number][0], -leans[number][1]], cd: state.mcd[number] / 1000 * (shares[number] ?? 1), rhythm: clock && lit.rhythm_of[number] || "",
  }));
  const pools = lit.picture.pools.flatMap((pool, n) => !lit.grounds[n] || !pool.states.includes(state.name) || behind.includes(pool.part) ? [] : [{
    origin: inside(lit.grounds[n].origin), step: [density * lit.grounds[n].step[0], -density * lit.grounds[n].step[1]], grid: pool.cd_m2,
    edge: lit.grounds[n].edge.map(inside), xy: pool.xy, rhythm: clock && pool.rhythm || "",
  }]);
  made = layers(lamps, wide, high, { pixelMm: 1 / (density * lit.scale), distanceMm: lit.picture.distance_mm, table: lit.picture.spread }, pools);
  shown = "";
  for (const [number, group] of groups) group.setAttribute("class", state.mcd[number] > 0 ? "lit" : "dark");
}

const weightOf = rhythm => rhythm ? levelAt(lit.rhythms[rhythm], clock.seconds) : 1;

function drawn() {
  const room = Number(light.value), colours = roomColours(room), half = halfOf(room, lit.picture.half_cd_m2);
  const weights = made.map(({ rhythm }) => room < LAMPS_SEEN_BELOW ? weightOf(rhythm) : 0), how = [room, weights].join(" ");
  if (how === shown) return;
  if (shown.split(" ")[1] !== String(weights) || !shown) summed(sum, made, weights);
  shown = how;
  toned(image.data, sum, groundLight(colours.sheet.map(linearOf), half), half, groundUnder(colours));
  pen.putImageData(image, 0, 0);
  for (const [number, group] of groups) group.dataset.lit = state.mcd[number] > 0 ? weightOf(clock && lit.rhythm_of[number]) : 0;
}

// The plan's own words, or where else one looks from.
function wordsHere() {
  const lamps = Object.keys(state.mcd).filter(number => state.mcd[number] > 0 && !state.behind.includes(Number(number)));
  if (from && plans && from.bearing === plans[0] && from.height === plans[1]) return lit.picture.words[state.name];
  if (!from) return plans ? "Each part is seen square on." : lit.picture.words[state.name];
  return `Seen from ${wayWords(from)}; parts are laid out flat. Of those that the picture has, ${darkWords(lamps, lookedAt().shares)}.`;
}

const stood = [...document.querySelectorAll(".stands")];

function laidAll() {
  for (const figure of stood) figure.hidden = lit.states[Number(figure.dataset.state)] !== state;
  const room = Number(light.value), colours = roomColours(room);
  root.dataset.plate = plate(room);
  sheet.style.setProperty("--drawn", css(colours.ink));
  sheet.style.setProperty("--named", room >= SWITCH_AT ? css(INK) : "#ece3d4");
  sheet.style.setProperty("--lit", room);
  drawn();
  const on = Object.values(state.mcd).filter(mcd => mcd > 0).length;
  document.getElementById("says").textContent = `State: ${state.name}. Room: ${roomWords(room)}. ${on} of ${lit.all} lamps lit.`;
  document.getElementById("terms").textContent = room < LAMPS_SEEN_BELOW ? `${termsWords(lit.picture, room)}. ${wordsHere()}`.trim() : "By full day the sheet is a drawing.";
  document.getElementById("now").textContent = roomWords(room);
  light.setAttribute("aria-valuetext", roomWords(room));
}

// --- rhythms -------------------------------------------------------------------------------------------------------

// Pixels of the screen that each rhythm changes by a tenth of white.
function flashes() {
  const room = Number(light.value), half = halfOf(room, lit.picture.half_cd_m2), steady = [0, 1, 2].map(() => new Float32Array(wide * high));
  summed(steady, made, made.map(({ rhythm }) => rhythm ? 0 : 1));
  const box = sheet.getBoundingClientRect(), zoom = Math.min(box.width / wide, box.height / high), under = groundLight(roomColours(room).sheet.map(linearOf), half);
  return made.filter(({ rhythm }) => rhythm).map(layer => [lit.rhythms[layer.rhythm], flashPx(layer, steady, under, half) * zoom ** 2]);
}

let flashing = [], flashingAt = "";

function frame() {
  if (clock === null) return;
  const at = `${state.name} ${light.value} ${innerWidth}`;
  if (at !== flashingAt) { flashingAt = at; flashing = Number(light.value) < LAMPS_SEEN_BELOW ? flashes() : []; }
  drawn();
  clock.flashing.push(...flashing);
  clock.tick(pace => { document.getElementById("pace").textContent = paceWords(pace); });
  requestAnimationFrame(frame);
}

function played(on) {
  clock = on ? new Clock() : null;
  flashingAt = "";
  document.getElementById("pace").textContent = "";
  const slowed = Object.values(lit.rhythms).some(rhythm => rhythm.slowed > 1.001);
  play.textContent = on ? `Stop the rhythms${slowed ? " (some slowed to be safe to look at)" : ""}` : "Play the rhythms";
  play.setAttribute("aria-pressed", on);
  laidAnew();
  laidAll();
  if (on) requestAnimationFrame(frame);
}

document.getElementById("controls").addEventListener("submit", event => event.preventDefault());
for (const one of document.querySelectorAll("input[name=state]")) {
  one.addEventListener("change", () => { state = lit.states[Number(one.value)]; flashingAt = ""; laidAnew(); laidAll(); });
  if (one.checked) state = lit.states[Number(one.value)];
}
light.addEventListener("input", laidAll);
if (turn) {
  const height = plans ? plans[1] : 0, told = () => { document.getElementById("way").textContent = from ? wayWords(from) : "square on"; turn.setAttribute("aria-valuetext", from ? wayWords(from) : "each part square on"); };
  const look = place => { from = place; flashingAt = ""; told(); laidAnew(); laidAll(); };
  turn.value = plans ? plans[0] : 0;
  turn.addEventListener("input", () => look({ bearing: Number(turn.value), height }));
  square.addEventListener("click", () => look(null));
  told();
}
if (play) play.addEventListener("click", () => played(clock === null));
document.addEventListener("visibilitychange", () => { if (document.hidden && clock !== null) played(false); });
laidAnew();
laidAll();
root.dataset.ready = "yes";
