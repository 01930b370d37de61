// The value that a resistor's bands stand for (IEC 60062), and the series that has it (IEC 60063). The code comes with the answer:
// `colours`: each with its digit, power of ten and tolerance; `series`: each name with the values of a decade, 100 to 999. Pure.

const LEAST_OHM = 0.01, MOST_OHM = 1e9;  // beyond, no resistor is sold by a series

// For each band its words and the colours that may stand there.
export function placesOf(colours, count) {
  const having = column => colours.filter(row => row[column] !== null).map(row => row[0]);
  const digits = ["First digit", "Second digit", "Third digit"].slice(0, count - 2).map(label => ({ label, colours: having(1) }));
  return [...digits, { label: "Noughts", colours: having(2) }, { label: "The one apart: how far it may be off", colours: having(3) }];
}

// Value in ohm, tolerance as a share, the coarsest series that has it, both in words, and what to mind: {ohm, tolerance, series, says, mind}.
export function bandsRead(code, words) {
  const turned = straight(code, [...words].reverse()), read = straight(code, words) || turned;
  const likelier = !read.series && turned && turned.series ? turned : null;
  const mind = likelier ? `No series has that value. From the other end it is ${inWords(likelier.ohm)}, ${percent(likelier.tolerance)}: more likely.`
    : read.series ? `A value of ${read.series}.` : "No series has that value: look once more, or measure it at ohm, out of the circuit.";
  return { ...read, mind };
}

// Null where a colour cannot stand in its place, as from the wrong end.
function straight({ colours, series }, words) {
  const meaning = (word, column) => colours.find(row => row[0] === word)[column];
  const digits = words.slice(0, -2).map(word => meaning(word, 1)), power = meaning(words.at(-2), 2), tolerance = meaning(words.at(-1), 3);
  if ([...digits, power, tolerance].includes(null)) return null;
  const figures = digits.reduce((sum, digit) => 10 * sum + digit, 0), ohm = power >= 0 ? figures * 10 ** power : figures / 10 ** -power;
  return { ohm, tolerance, series: ohm >= LEAST_OHM && ohm <= MOST_OHM ? seriesOf(figures, series) : null, says: `${inWords(ohm)}, ${percent(tolerance)}: ${inWords(ohm * (1 - tolerance))} to ${inWords(ohm * (1 + tolerance))}` };
}

// The decade does not count: 47, 470 and 047 are looked up as 470.
function seriesOf(figures, series) {
  if (!figures) return null;
  const decade = Number(String(figures).padEnd(3, "0").slice(0, 3));
  return series.find(([, values]) => values.includes(decade))?.[0] ?? null;
}

const percent = share => `${Number((100 * share).toPrecision(3))} %`;

function inWords(ohm) {
  const [unit, size] = ohm >= 1e9 ? ["Gohm", 1e9] : ohm >= 1e6 ? ["Mohm", 1e6] : ohm >= 1e3 ? ["kohm", 1e3] : ["ohm", 1];
  return `${Number((ohm / size).toPrecision(4))} ${unit}`;
}
