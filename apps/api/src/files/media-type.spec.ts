import { describe, expect, test } from '@jest/globals';
import { formatOf, FORMATS, OPENING_BYTES } from './media-type.js';

const PNG = Buffer.from('89504e470d0a1a0a0000000d49484452000000010000000108060000001f15c4890000000d49444154789c636460f85f0f0002870180eb47ba920000000049454e44ae426082', 'hex');
const JPEG = Buffer.from('ffd8ffe000104a46494600010100000100010000ffdb0043', 'hex');
const TIFF_LITTLE = Buffer.from('49492a0008000000000000000000000000000000', 'hex');
const TIFF_BIG = Buffer.from('4d4d002a00000008000000000000000000000000', 'hex');
const PDF = Buffer.from('%PDF-1.7\n%\xE2\xE3\xCF\xD3\n1 0 obj\n', 'latin1');
const ZIP = Buffer.from('PK\x03\x04\x14\x00\x08\x00\x08\x00'.padEnd(300, 'x'), 'latin1');
const GIF = Buffer.from('GIF89a\x01\x00\x01\x00\x00\x00\x00', 'latin1');
const CSV = Buffer.from('certificate,issuer\nTS-1,Hochofenhütte\n');

const typeOf = async (bytes: Buffer, name: string | null = null): Promise<string> => {
  const format = await formatOf(bytes, name);
  return 'fault' in format ? format.fault : format.mediaType;
};

describe('the format of a file', () => {
  test.each([
    ['a PDF', PDF, 'application/pdf'], ['a JPEG', JPEG, 'image/jpeg'], ['a PNG', PNG, 'image/png'], ['a TIFF, low byte first', TIFF_LITTLE, 'image/tiff'], ['a TIFF, high byte first', TIFF_BIG, 'image/tiff'],
    ['text', CSV, 'text/csv'], ['text with a byte-order mark', Buffer.concat([Buffer.from([0xef, 0xbb, 0xbf]), CSV]), 'text/csv'], ['one letter', Buffer.from('a'), 'text/csv'], ['one letter of two bytes', Buffer.from('é'), 'text/csv'],
  ])('%s is known by its content', async (_, bytes, type) => {
    expect(await typeOf(bytes)).toBe(type);
  });

  test.each([
    ['a zip', ZIP, /^the content is application\/zip; taken are application\/pdf, image\/jpeg, image\/png, image\/tiff, text\/csv$/], ['a GIF', GIF, /^the content is image\/gif; taken are/],
    ['bytes of nothing known', Buffer.from([1, 0, 2, 0, 3]), /^the content is of no known format; taken are/], ['text with a NUL in it', Buffer.concat([CSV, Buffer.from([0])]), /no known format/],
    ['text of another encoding', Buffer.from('TS-1,Hochofenh\xfctte\n', 'latin1'), /no known format/], ['text of two bytes a letter', Buffer.from(CSV.toString(), 'utf16le'), /no known format/],
  ])('%s is not taken', async (_, bytes, fault) => {
    expect(await typeOf(bytes)).toMatch(fault);
  });

  test('does not follow from its name, which must fit it', async () => {
    for (const name of ['TS-1.pdf', 'TS-1.PDF', 'TS-1', '.pdf']) expect(await typeOf(PDF, name)).toBe('application/pdf');
    expect(await typeOf(PNG, 'TS-1.pdf')).toBe('the name ends in .pdf, but the content is image/png');
    expect(await typeOf(JPEG, 'tag.jpeg')).toBe('image/jpeg');
    expect(await typeOf(CSV, 'TS-1.txt')).toBe('text/csv');
    expect(await typeOf(Buffer.from('<html></html>'), 'TS-1.html')).toBe('the name ends in .html, but the content is text/csv');
    expect(await typeOf(ZIP, 'TS-1.pdf')).toMatch(/application\/zip/);
  });

  test('every format has an ending and a limit of its own', () => {
    for (const { mediaType, endings, mostBytes } of FORMATS) {
      expect(endings.every((ending) => /^\.[a-z]+$/.test(ending)) && endings.length > 0).toBe(true);
      expect(mostBytes).toBe(mediaType === 'text/csv' ? 268_435_456 : 33_554_432);
    }
    const endings = FORMATS.flatMap((format) => format.endings);
    expect(new Set(endings).size).toBe(endings.length);
  });
});

describe('text of which the beginning is looked at', () => {
  const cut = (letter: string, byte: number): Buffer => {
    const bytes = Buffer.from(letter);
    return Buffer.concat([Buffer.alloc(OPENING_BYTES - byte, 'a'), bytes.subarray(0, byte)]);
  };

  test.each([['é', 1], ['é', 2], ['€', 1], ['€', 2], ['€', 3], ['𝛿', 1], ['𝛿', 2], ['𝛿', 3], ['𝛿', 4]])('may be cut within %s after %i bytes', async (letter, byte) => {
    expect(cut(letter, byte)).toHaveLength(OPENING_BYTES);
    expect(await typeOf(cut(letter, byte))).toBe('text/csv');
  });

  test('is none with bytes that begin no letter, wherever they are', async () => {
    const garbage = Buffer.alloc(5, 0x80);
    expect(await typeOf(Buffer.concat([Buffer.alloc(OPENING_BYTES - 5, 'a'), garbage]))).toMatch(/no known format/);
    expect(await typeOf(Buffer.concat([Buffer.alloc(10, 'a'), garbage, Buffer.alloc(OPENING_BYTES - 15, 'a')]))).toMatch(/no known format/);
  });

  test('is none where the whole file ends within a letter', async () => {
    expect(await typeOf(Buffer.concat([CSV, Buffer.from('€').subarray(0, 2)]))).toMatch(/no known format/);
  });
});
