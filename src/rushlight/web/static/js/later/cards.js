// Which tables stand as cards where there is little room for them: each row a block, each cell under its heading. Pure.
const LETTER_PX = 7, AROUND_PX = 16, ROOM_PX = { laptop: 510, phone: 330 }, LEAST = { columns: 4, broad: 5 }, LONG = 150, SHORT = 24;

const longestWord = text => Math.max(0, ...text.split(/\s+/).map(word => word.length));

// `texts` are the rows as they are read. "some" takes cards on a narrow screen, "many" on a laptop too: the table would scroll aside there, or its
// sentences stand as tall strips. Of each column "lead", "full" (a line of its own) or "". null where rows do well everywhere.
export function cardsOf(columns, texts) {
  if (columns.length < LEAST.columns || !texts.length) return null;
  const longest = columns.map((_, n) => Math.max(...texts.map(row => row[n].length)));
  const need = columns.reduce((sum, column, n) => sum + AROUND_PX + LETTER_PX * Math.max(longestWord(column.heading), ...texts.map(row => longestWord(row[n]))), 0);
  const sentences = columns.length >= LEAST.broad && longest.some(letters => letters > LONG);
  if (need <= ROOM_PX.phone && !sentences) return null;
  return { on: need > ROOM_PX.laptop || sentences ? "many" : "some", kinds: columns.map((_, n) => (n === 0 ? "lead" : longest[n] > 2 * SHORT ? "full" : "")) };
}
