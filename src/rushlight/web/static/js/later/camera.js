// What the model is photographed or filmed with; what is left out is a usual camera's.
import { html } from "../../vendor/preact-htm.js";
import { KeysForm } from "../keys-form.js";

const LABELS = { f_number: "Aperture", iso: "ISO", frames_per_s: "Frame rate", shutter_deg: "Shutter angle", exposure_s: "Or a time", from_mm: "Distance", view_deg: "Angle of view",
  across_px: "Pixels across", readout_ms: "Readout", note: "Note" };

const asTyped = (key, value) => key !== "exposure_s" || value === null || value === undefined ? value : value < 0.3 ? `1/${Math.round(1 / value)}` : `${value}`;

export function Camera({ desk, state }) {
  const { words, plan } = state, rows = words.keys.camera.map(row => ({ ...row, label: LABELS[row.key], kind: row.key === "exposure_s" ? "text" : row.kind }));
  const now = Object.fromEntries(rows.map(row => [row.key, asTyped(row.key, plan.camera ? plan.camera[row.key] : row.usual)]));
  const set = (row, value) => desk.change([{ action: "set", kind: "camera", name: "", values: { [row.key]: value } }], "camera changed");
  return html`<details class="camera"><summary>Your camera: f/${now.f_number}, ISO ${now.iso}${plan.camera ? "" : ", as usual"}</summary>
    <${KeysForm} rows=${rows} item=${now} unit=${state.unit} words=${words} onValue=${set} /></details>`;
}
