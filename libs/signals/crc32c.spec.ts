import { describe, expect, test } from '@jest/globals';
import { crc32c } from './crc32c.js';

describe('CRC-32C', () => {
  test('gives the published check value, and those of RFC 3720, appendix B.4 (quoted from memory)', () => {
    expect(crc32c(new TextEncoder().encode('123456789'))).toBe(0xe3069283);
    expect(crc32c(new Uint8Array(32))).toBe(0x8a9136aa);
    expect(crc32c(new Uint8Array(32).fill(0xff))).toBe(0x62a8ab43);
    expect(crc32c(Uint8Array.from({ length: 32 }, (_, index) => index))).toBe(0x46dd794e);
    expect(crc32c(Uint8Array.from({ length: 32 }, (_, index) => 31 - index))).toBe(0x113fdb5c);
  });

  test('takes lengths that are no multiple of four as they are', () => {
    // One bit after another, without a table.
    const slowly = (bytes: Uint8Array): number => {
      let sum = 0xffffffff;
      for (const byte of bytes) {
        sum ^= byte;
        for (let bit = 0; bit < 8; bit += 1) sum = sum & 1 ? (sum >>> 1) ^ 0x82f63b78 : sum >>> 1;
      }
      return ~sum >>> 0;
    };
    for (let length = 0; length < 40; length += 1) {
      const bytes = Uint8Array.from({ length }, (_, index) => (index * 151 + 7) & 255);
      expect(crc32c(bytes)).toBe(slowly(bytes));
    }
  });
});
