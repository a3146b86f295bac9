import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { describe, expect, test } from '@jest/globals';
import { create } from 'fontkit';
import { unpackWoff } from './woff.js';

const packed = readFileSync(createRequire(import.meta.url).resolve('@fontsource/hind/files/hind-devanagari-400-normal.woff'));

function widths(bytes: Buffer): number[] {
  const font = create(bytes);
  if (!('characterSet' in font)) throw new Error('not one font');
  return font.characterSet.map((codePoint) => font.glyphForCodePoint(codePoint).advanceWidth);
}

describe('a font out of its package', () => {
  test('has the characters and widths of the packed one', () => {
    const plain = unpackWoff(packed);
    expect(plain.length).toBeGreaterThan(packed.length);
    expect(widths(plain)).toEqual(widths(packed));
  });

  test('each table has the checksum that its directory entry names (OpenType, table directory)', () => {
    const plain = unpackWoff(packed);
    const count = plain.readUInt16BE(4);
    expect(count).toBe(packed.readUInt16BE(12));
    for (let i = 0; i < count; i += 1) {
      const entry = 12 + 16 * i;
      const tag = plain.toString('latin1', entry, entry + 4);
      const start = plain.readUInt32BE(entry + 8);
      let sum = 0;
      for (let at = 0; at < plain.readUInt32BE(entry + 12); at += 4) {
        // The head table is summed with its own adjustment, at byte 8, as zero.
        const word = tag === 'head' && at === 8 ? 0 : plain.readUInt32BE(start + at);
        sum = (sum + word) >>> 0;
      }
      expect([tag, sum]).toEqual([tag, plain.readUInt32BE(entry + 4)]);
    }
  });

  test('anything else is refused', () => {
    expect(() => unpackWoff(Buffer.from('wOF2'))).toThrow(RangeError);
    expect(() => unpackWoff(Buffer.alloc(100))).toThrow(RangeError);
  });
});
