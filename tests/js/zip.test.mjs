import assert from "node:assert/strict";
import { test } from "node:test";
import { JS } from "./here.mjs";

const { crc32, fileNames, zipped } = await import(`${JS}zip.js`);

test("the checksum is that of the standard", () => {
  assert.equal(crc32(new TextEncoder().encode("123456789")), 0xCBF43926);  // check value of CRC-32/ISO-HDLC
});

test("names that every file system takes, none twice", () => {
  assert.deepEqual(fileNames(["a/b: <i>", "ab i", "Tender Åse", "???", "x", "X"]), ["ab i", "ab i 2", "Tender Åse", "picture", "x", "X 2"]);
});

test("an archive says how many files it holds", () => {
  const pieces = zipped([{ name: "a.png", bytes: new Uint8Array([1, 2, 3]) }]);
  assert.equal(pieces.reduce((sum, piece) => sum + piece.length, 0), 30 + 5 + 3 + 46 + 5 + 22);
});
