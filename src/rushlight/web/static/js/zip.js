// Files put together as one ZIP archive, stored as they are (APPNOTE 6.3, PKWARE: local headers, central directory). Pure.

const TABLE = Uint32Array.from({ length: 256 }, (_, n) => {
  let sum = n;
  for (let bit = 0; bit < 8; bit += 1) sum = sum & 1 ? 0xEDB88320 ^ (sum >>> 1) : sum >>> 1;
  return sum;
});

export function crc32(bytes) {
  let sum = 0xFFFFFFFF;
  for (const byte of bytes) sum = TABLE[(sum ^ byte) & 0xFF] ^ (sum >>> 8);
  return (sum ^ 0xFFFFFFFF) >>> 0;
}

const UTF8 = 0x0800, VERSION = 20, FIRST_DAY = 0x21; // 1 January 1980: the same pictures give the same file

function header(signature, fields) {
  const size = fields.reduce((sum, [, bytes]) => sum + bytes, 4), view = new DataView(new ArrayBuffer(size));
  view.setUint32(0, signature, true);
  let at = 4;
  for (const [value, bytes] of fields) { if (bytes === 2) view.setUint16(at, value, true); else view.setUint32(at, value, true); at += bytes; }
  return new Uint8Array(view.buffer);
}

// `files` are {name, bytes}; the archive's pieces come in order, for a Blob.
export function zipped(files) {
  const pieces = [], directory = [];
  let at = 0;
  for (const { name, bytes } of files) {
    const word = new TextEncoder().encode(name), about = [[VERSION, 2], [UTF8, 2], [0, 2], [0, 2], [FIRST_DAY, 2], [crc32(bytes), 4], [bytes.length, 4], [bytes.length, 4], [word.length, 2], [0, 2]];
    const local = header(0x04034B50, about);
    directory.push(header(0x02014B50, [[VERSION, 2], ...about, [0, 2], [0, 2], [0, 2], [0, 4], [at, 4]]), word);
    pieces.push(local, word, bytes);
    at += local.length + word.length + bytes.length;
  }
  const size = directory.reduce((sum, piece) => sum + piece.length, 0);
  return [...pieces, ...directory, header(0x06054B50, [[0, 2], [0, 2], [files.length, 2], [files.length, 2], [size, 4], [at, 4], [0, 2]])];
}

// A name that every file system takes, no two alike.
export function fileNames(names) {
  const taken = new Set();
  return names.map(name => {
    const stem = name.replace(/[^\p{L}\p{N} ._-]/gu, "").trim().slice(0, 80) || "picture";
    let free = stem, number = 2;
    while (taken.has(free.toLowerCase())) { free = `${stem} ${number}`; number += 1; }
    taken.add(free.toLowerCase());
    return free;
  });
}
