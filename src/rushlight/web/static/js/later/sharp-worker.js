// Works out layers of the picture by night beside the page; their planes are handed over, not copied.
import { layers } from "../night.js";

self.onmessage = ({ data }) => {
  const made = layers(...data);
  self.postMessage(made, made.flatMap(({ planes }) => planes.flatMap(({ plane }) => plane ? [plane.buffer] : [])));
};
