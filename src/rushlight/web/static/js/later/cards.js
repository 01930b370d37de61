// Which tables stand as cards where there is little room for them: each row a block, each cell under its heading. Pure.
const LETTER_PX = 7, AROUND_PX = 16, ROOM_PX = { laptop: 510, phone: 330 }, LEAST = { columns: 4, broad: 5 }, LONG = 150, SHORT = 24;
const BELOW_PX = { phone: 440, laptop: 640 };

const longestWord = text => Math.max(0, ...text.split(/\s+/).map(word => word.length));

// `texts` are the rows as they are read. `below_px` is the width of the figure up to which the table stands as cards: that of a phone, or of a laptop's leaf
// where it would scroll aside there too, or its sentences stand as tall strips. Of each column "lead", "full" (a line of its own) or "". null where rows do well everywhere.
export function cardsOf(columns, texts) {
  if (columns.length < LEAST.columns || !texts.length) return null;
  const longest = columns.map((_, n) => Math.max(...texts.map(row => row[n].length)));
  const need = columns.reduce((sum, column, n) => sum + AROUND_PX + LETTER_PX * Math.max(longestWord(column.heading), ...texts.map(row => longestWord(row[n]))), 0);
  const sentences = columns.length >= LEAST.broad && longest.some(letters => letters > LONG);
  if (need <= ROOM_PX.phone && !sentences) return null;
  return { below_px: BELOW_PX[need > ROOM_PX.laptop || sentences ? "laptop" : "phone"], kinds: columns.map((_, n) => (n === 0 ? "lead" : longest[n] > 2 * SHORT ? "full" : "")) };
}
