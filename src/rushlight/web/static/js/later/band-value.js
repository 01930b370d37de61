// The value that a resistor's bands stand for (IEC 60062); what each colour means comes with the answer.

// For each band its words and the colours that may stand there.
export function placesOf(colours, count) {
  const having = column => colours.filter(row => row[column] !== null).map(row => row[0]);
  const digits = ["First digit", "Second digit", "Third digit"].slice(0, count - 2).map(label => ({ label, colours: having(1) }));
  return [...digits, { label: "Noughts", colours: having(2) }, { label: "The one apart: how far it may be off", colours: having(3) }];
}

// Value in ohm, tolerance as a share, and both in words.
export function bandsRead(colours, words) {
  const meaning = (word, column) => colours.find(row => row[0] === word)[column];
  const digits = words.slice(0, -2).reduce((sum, word) => 10 * sum + meaning(word, 1), 0), power = meaning(words.at(-2), 2);
  const ohm = power >= 0 ? digits * 10 ** power : digits / 10 ** -power, tolerance = meaning(words.at(-1), 3);
  return { ohm, tolerance, says: `${inWords(ohm)}, ${percent(tolerance)}: ${inWords(ohm * (1 - tolerance))} to ${inWords(ohm * (1 + tolerance))}` };
}

const percent = share => `${Number((100 * share).toPrecision(3))} %`;

function inWords(ohm) {
  const [unit, size] = ohm >= 1e6 ? ["Mohm", 1e6] : ohm >= 1e3 ? ["kohm", 1e3] : ["ohm", 1];
  return `${Number((ohm / size).toPrecision(4))} ${unit}`;
}
