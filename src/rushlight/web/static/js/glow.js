// Glows as small pictures, made once for each colour: a disc and a halo that falls off.
const made = new Map();
const SIZE = 128;
export const CORE = 0.12;

export function sprite(rgb) {
  if (made.has(rgb)) return made.get(rgb);
  const canvas = document.createElement("canvas");
  canvas.width = canvas.height = SIZE;
  const pen = canvas.getContext("2d"), half = SIZE / 2;
  const light = pen.createRadialGradient(half, half, 0, half, half, half);
  light.addColorStop(0, rgb);
  light.addColorStop(CORE, rgb);
  for (let n = 1; n <= 12; n += 1) {
    const away = n / 12;
    const share = 0.42 / (1 + (away * 3.2) ** 2) ** 2 * (1 - away) ** 0.6;
    light.addColorStop(CORE + (1 - CORE) * away, rgb + Math.round(255 * share).toString(16).padStart(2, "0"));
  }
  pen.fillStyle = light;
  pen.fillRect(0, 0, SIZE, SIZE);
  if (made.size > 600) made.clear();
  made.set(rgb, canvas);
  return canvas;
}
