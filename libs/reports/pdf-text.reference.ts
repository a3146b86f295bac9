/** A slow, literal reader of the text in a PDF as the reports write it, to check them independently. */
import { inflateSync } from 'node:zlib';

export interface ReadPdf {
  /** The text of each page in drawing order, each run on its own. */
  readonly pages: readonly (readonly string[])[];
  readonly source: string;
}

function objectsOf(source: string): Map<string, string> {
  const objects = new Map<string, string>();
  for (const [, id = '', body = ''] of source.matchAll(/(?:^|\n)(\d+) 0 obj\n([\s\S]*?)\nendobj/g)) objects.set(id, body);
  return objects;
}

function reference(body: string, key: string): string {
  return new RegExp(`/${key} (\\d+) 0 R`).exec(body)?.[1] ?? '';
}

function readUtf16(hex: string): string {
  return Buffer.from(hex.replace(/\s/g, ''), 'hex').swap16().toString('utf16le');
}

/** Glyph number to text, from a ToUnicode map whose ranges list every target. */
function toUnicode(map: string): Map<number, string> {
  const glyphs = new Map<number, string>();
  for (const [, first = '', list = ''] of map.matchAll(/<([0-9a-f]{4})> <[0-9a-f]{4}> \[([^\]]*)\]/gi)) {
    const targets = [...list.matchAll(/<([0-9a-f ]*)>/gi)].map((match) => readUtf16(match[1] ?? ''));
    targets.forEach((text, i) => glyphs.set(Number.parseInt(first, 16) + i, text));
  }
  return glyphs;
}

function fontsOf(source: string, objects: Map<string, string>): Map<string, Map<number, string>> {
  const fonts = new Map<string, Map<number, string>>();
  for (const [, name = '', id = ''] of source.matchAll(/\/(F\d+) (\d+) 0 R/g)) {
    fonts.set(name, toUnicode(objects.get(reference(objects.get(id) ?? '', 'ToUnicode')) ?? ''));
  }
  return fonts;
}

function runsOf(content: string, fonts: Map<string, Map<number, string>>): string[] {
  const runs: string[] = [];
  for (const [, font = '', shown = ''] of content.matchAll(/\/(F\d+) [\d.]+ Tf([\s\S]*?)ET/g)) {
    const glyphs = [...shown.matchAll(/<([0-9a-f]+)>/gi)].flatMap((match) => match[1]?.match(/.{4}/g) ?? []);
    runs.push(glyphs.map((glyph) => fonts.get(font)?.get(Number.parseInt(glyph, 16)) ?? '\ufffd').join(''));
  }
  return runs;
}

/** The file with each compressed stream unpacked in its place. */
function unpacked(source: string): string {
  return source.replaceAll(
    /(<<[^<>]*(?:<<[^<>]*>>[^<>]*)*\/Filter \/FlateDecode[^<>]*>>)\nstream\n([\s\S]*?)\nendstream/g,
    (_whole, dictionary: string, packed: string) => {
      return `${dictionary}\nstream\n${inflateSync(Buffer.from(packed, 'latin1')).toString('latin1')}\nendstream`;
    },
  );
}

/** Reads the pages of a PDF, packed or not. */
export function readPdf(bytes: Buffer): ReadPdf {
  const source = unpacked(bytes.toString('latin1'));
  const objects = objectsOf(source);
  const fonts = fontsOf(source, objects);
  const kids = /\/Kids \[([^\]]*)\]/.exec(source)?.[1] ?? '';
  const pages = [...kids.matchAll(/(\d+) 0 R/g)].map((match) => {
    const content = reference(objects.get(match[1] ?? '') ?? '', 'Contents');
    return runsOf(objects.get(content) ?? '', fonts);
  });
  return { pages, source };
}
