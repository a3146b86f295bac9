import { extname } from 'node:path';
import { fileTypeFromBuffer } from 'file-type';

/** Formats that papers and photos come in, with the endings of their names and the most bytes taken. Our own choice. */
export const FORMATS: readonly Format[] = [
  { mediaType: 'application/pdf', endings: ['.pdf'], mostBytes: 33_554_432 },
  { mediaType: 'image/jpeg', endings: ['.jpg', '.jpeg'], mostBytes: 33_554_432 },
  { mediaType: 'image/png', endings: ['.png'], mostBytes: 33_554_432 },
  { mediaType: 'image/tiff', endings: ['.tif', '.tiff'], mostBytes: 33_554_432 },
  { mediaType: 'text/csv', endings: ['.csv', '.txt'], mostBytes: 268_435_456 },
];

export interface Format {
  readonly mediaType: string;
  readonly endings: readonly string[];
  readonly mostBytes: number;
}

const TAKEN = FORMATS.map(({ mediaType }) => mediaType).join(', ');

/**
 * The format of a file by its first bytes, never by its name; or why it is not taken. Text without a signature is CSV.
 * `name`, where there is one, must end as files of that format do.
 */
export async function formatOf(opening: Buffer, name: string | null): Promise<Format | { readonly fault: string }> {
  const found = (await fileTypeFromBuffer(opening))?.mime ?? (isText(opening) ? 'text/csv' : null);
  const format = FORMATS.find(({ mediaType }) => mediaType === found);
  if (format === undefined) return { fault: `the content is ${found ?? 'of no known format'}; taken are ${TAKEN}` };
  const ending = name === null ? '' : extname(name).toLowerCase();
  if (ending !== '' && !format.endings.includes(ending)) {
    return { fault: `the name ends in ${ending}, but the content is ${format.mediaType}` };
  }
  return format;
}

/** UTF-8 without NUL, but for a character cut off at the end of what was looked at. */
function isText(opening: Buffer): boolean {
  if (opening.includes(0)) return false;
  const whole = opening.length < 4 ? opening : opening.subarray(0, lastWhole(opening));
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(whole);
    return true;
  } catch {
    return false;
  }
}

/** The length without a multi-byte character that may go on. */
function lastWhole(bytes: Buffer): number {
  let end = bytes.length;
  while (end > 0 && bytes.length - end < 4 && ((bytes[end - 1] ?? 0) & 0xc0) === 0x80) end -= 1;
  return ((bytes[end - 1] ?? 0) & 0x80) === 0 ? bytes.length : end - 1;
}
