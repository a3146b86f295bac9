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

/** Bytes of a file's beginning that are looked at: enough for every signature. */
export const OPENING_BYTES = 4100;

const TAKEN = FORMATS.map(({ mediaType }) => mediaType).join(', ');

/**
 * The format of a file by its first `OPENING_BYTES`, or all of it where it is shorter, never by its name; or why it is not
 * taken. Text without a signature is CSV.
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

/** UTF-8 without NUL. Where the file goes on, its last character may be cut off. */
function isText(opening: Buffer): boolean {
  if (opening.includes(0)) return false;
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(opening, { stream: opening.length >= OPENING_BYTES });
    return true;
  } catch {
    return false;
  }
}
