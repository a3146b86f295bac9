/**
 * CRC-32C (Castagnoli): reflected polynomial 0x82F63B78, all ones before and after. RFC 3720 appendix B.4 and the catalogue of
 * CRC parameters give it the check value 0xE3069283 for the ASCII digits "123456789". Every error of one bit, and every burst of
 * up to 32, changes it.
 */
const POLYNOMIAL = 0x82f63b78;
/** Bytes taken at once; table t is the effect of a byte with t bytes after it. */
const SLICES = 4;
const TABLES = tables();

function tables(): Uint32Array {
  const all = new Uint32Array(SLICES * 256);
  for (let byte = 0; byte < 256; byte += 1) {
    let rest = byte;
    for (let bit = 0; bit < 8; bit += 1) rest = rest & 1 ? (rest >>> 1) ^ POLYNOMIAL : rest >>> 1;
    all[byte] = rest;
  }
  for (let index = 256; index < all.length; index += 1) {
    const before = all[index - 256] as number;
    all[index] = (before >>> 8) ^ (all[before & 255] as number);
  }
  return all;
}

/** The checksum of `bytes`, as an unsigned 32-bit number. */
export function crc32c(bytes: Uint8Array): number {
  const { length } = bytes;
  const whole = length - (length % SLICES);
  let sum = -1;
  let index = 0;
  for (; index < whole; index += SLICES) {
    sum ^= (bytes[index] as number) | ((bytes[index + 1] as number) << 8) | ((bytes[index + 2] as number) << 16) | ((bytes[index + 3] as number) << 24);
    sum = (TABLES[768 + (sum & 255)] as number) ^ (TABLES[512 + ((sum >>> 8) & 255)] as number)
      ^ (TABLES[256 + ((sum >>> 16) & 255)] as number) ^ (TABLES[sum >>> 24] as number);
  }
  for (; index < length; index += 1) sum = (TABLES[(sum ^ (bytes[index] as number)) & 255] as number) ^ (sum >>> 8);
  return ~sum >>> 0;
}
