// Notes in the margin: each as near to the height of its place as the others allow. Pure.

// `notes` are {wanted, height}; answers tops in the same order. Notes keep the order of what they speak of.
export function stacked(notes, gap, top, bottom) {
  const order = notes.map((_, n) => n).sort((a, b) => notes[a].wanted - notes[b].wanted || a - b);
  const tops = new Array(notes.length).fill(0);
  let free = top;
  for (const n of order) {
    tops[n] = Math.max(free, notes[n].wanted - notes[n].height / 2);
    free = tops[n] + notes[n].height + gap;
  }
  let limit = bottom;
  for (const n of [...order].reverse()) {
    if (tops[n] + notes[n].height <= limit) break;
    tops[n] = limit - notes[n].height;
    limit = tops[n] - gap;
  }
  return tops;
}

export function roomFor(notes, gap, top, bottom) {
  return notes.reduce((sum, note) => sum + note.height + gap, -gap) <= bottom - top;
}
