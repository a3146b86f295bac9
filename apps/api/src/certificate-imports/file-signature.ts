/**
 * Names what a file is when it is no CSV file in UTF-8, by its first bytes. The signatures are those that the formats
 * themselves define (from memory).
 */
const SIGNATURES: readonly (readonly [string, string])[] = [
  ['PK\x03\x04', 'a zip archive, or a workbook (xlsx, ods), which is one'],
  ['PK\x05\x06', 'an empty zip archive'],
  ['%PDF', 'a PDF document'],
  ['\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1', 'a workbook or document of the older binary kind (xls, doc)'],
  ['\x89PNG', 'a PNG image'],
  ['\xFF\xD8\xFF', 'a JPEG image'],
  ['GIF8', 'a GIF image'],
  ['II*\0', 'a TIFF image'],
  ['MM\0*', 'a TIFF image'],
  ['RIFF', 'an image, sound or film (RIFF)'],
  ['\0\0\0\x18ftyp', 'an image or film (ISO media)'],
  ['\0\0\0\x1Cftyp', 'an image or film (ISO media)'],
  ['\0\0\0\x20ftyp', 'an image or film (ISO media)'],
  ['\x1F\x8B', 'a gzip archive'],
  ['7z\xBC\xAF\x27\x1C', 'a 7z archive'],
  ['Rar!\x1A\x07', 'a RAR archive'],
  ['{\\rtf', 'an RTF document'],
  ['<?xml', 'an XML document'],
  ['<!DOCTYPE', 'a web page'],
  ['<html', 'a web page'],
];

const LOOKED_AT = 256;

/** A sentence on what the file is instead of a CSV file in UTF-8, or null when its opening shows nothing else. */
export function foreignFormat(opening: Buffer): string | null {
  const start = opening.subarray(0, LOOKED_AT);
  if (isUtf16(start)) return 'This is UTF-16 text. A CSV file in UTF-8 is taken: choose “CSV UTF-8” when saving.';
  const text = start.toString('latin1');
  const found = SIGNATURES.find(([signature]) => text.startsWith(signature));
  return found === undefined ? null : `This is ${found[1]}, whatever its name says. A CSV file in UTF-8 is taken.`;
}

/** By its byte order mark, or by the zero bytes that Latin letters have in it: all in one half of each pair. */
function isUtf16(start: Buffer): boolean {
  if (start.length < 2) return false;
  const mark = start.readUInt16BE(0);
  if (mark === 0xfeff || mark === 0xfffe) return true;
  const zeros = [0, 0];
  for (const [index, byte] of start.entries()) {
    if (byte === 0) zeros[index % 2] = (zeros[index % 2] ?? 0) + 1;
  }
  const [even = 0, odd = 0] = zeros;
  return start.length >= 8 && Math.min(even, odd) === 0 && Math.max(even, odd) * 3 >= start.length;
}
