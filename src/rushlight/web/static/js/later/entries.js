// How a row of a broad table of figures is laid out where there is little room for it.
const LEAST = { columns: 8, figures: 4 }, MOST = { figures: 6, words: 4 };

// Of each column its names for the style and the figures' columns that it spans. A "word" stands before the figures, a "remark" after them; "broad"
// words get what the others leave. null where the table is not of that kind: too few columns, words between its figures, or more than stand well in two lines.
export function entryOf(columns) {
  const first = columns.findIndex(column => column.align === "right"), last = columns.findLastIndex(column => column.align === "right");
  const words = columns.slice(0, Math.max(first, 0)), between = columns.slice(Math.max(first, 0), last + 1), figures = between.length;
  if (between.some(column => column.align !== "right")) return null;
  if (columns.length < LEAST.columns || figures < LEAST.figures || figures > MOST.figures || !words.length || words.length > Math.min(MOST.words, figures)) return null;
  const wide = words.filter(column => column.wide), broad = wide.length ? wide : words.slice(0, 1), left = figures - words.length;
  const spanOf = column => 1 + Math.floor(left / broad.length) + (broad.indexOf(column) < left % broad.length ? 1 : 0);
  return columns.map((column, n) => {
    if (n > last) return { names: ["remark"], span: 1 };
    if (n >= first) return { names: n === first ? ["figure", "first"] : ["figure"], span: 1 };
    const names = ["word", ...(broad.includes(column) ? ["broad"] : []), ...(n > 0 && n === first - 1 ? ["last"] : [])];
    return { names, span: broad.includes(column) ? spanOf(column) : 1 };
  });
}
