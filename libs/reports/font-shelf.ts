/**
 * The fonts that reports embed, all under open licences (Bitstream Vera and SIL OFL 1.1): DejaVu Sans for Latin,
 * Greek, Cyrillic, Armenian, Georgian, Arabic, Hebrew and symbols; Hind for Devanagari; Sawarabi Gothic for Japanese;
 * Do Hyeon for Korean; ZCOOL XiaoWei for what is left of simplified Chinese. The last three come as many small files,
 * each for a few ranges of code points: a file is read only when a character asks for it. The files of ZCOOL XiaoWei
 * stand in `fonts/`, since its package holds twice as much as is used; they are as in @fontsource/zcool-xiaowei 5.3.0.
 */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { create, type Font } from 'fontkit';
import { unpackWoff } from './woff.js';

interface FontFile {
  readonly id: string;
  readonly path: string;
  readonly ranges: readonly (readonly [number, number])[];
}

const EVERY_CODE_POINT = [[0, 0x10ffff]] as const;
const require = createRequire(import.meta.url);

function packageFolder(family: string): string {
  return dirname(require.resolve(`@fontsource/${family}/LICENSE`));
}

function ownFolder(family: string): string {
  return dirname(require.resolve(`#fonts/${family}/LICENSE`));
}

function singleFile(family: string, subset: string, weight: number): FontFile {
  const name = `${family}-${subset}-${weight}-normal`;
  return { id: name, path: join(packageFolder(family), 'files', `${name}.woff`), ranges: EVERY_CODE_POINT };
}

/** Reads a list such as "U+FF01,U+FF3B-FF3D" into pairs of code points. */
function parseRanges(list: string): [number, number][] {
  return list.split(',').map((range) => {
    const [from = '', to = from] = range.trim().replace('U+', '').split('-');
    return [Number.parseInt(from, 16), Number.parseInt(to, 16)];
  });
}

function splitFiles(family: string, folder = packageFolder(family)): FontFile[] {
  const subsets = JSON.parse(readFileSync(join(folder, 'unicode.json'), 'utf8')) as Record<string, string>;
  return Object.entries(subsets).map(([subset, list]) => {
    const name = `${family}-${subset.replace(/[[\]]/g, '')}-400-normal`;
    return { id: name, path: join(folder, 'files', `${name}.woff`), ranges: parseRanges(list) };
  });
}

function readFont(bytes: Buffer): Font {
  const font = create(bytes);
  if (!('hasGlyphForCodePoint' in font)) throw new Error('a font collection is not a font');
  return font;
}

/** Chooses fonts for one document and hands out their bytes. */
export class FontShelf {
  private readonly regular = [
    singleFile('dejavu-sans', 'latin', 400),
    singleFile('hind', 'devanagari', 400),
    ...splitFiles('sawarabi-gothic'),
    ...splitFiles('do-hyeon'),
    ...splitFiles('zcool-xiaowei', ownFolder('zcool-xiaowei')),
  ];
  private readonly bold = [singleFile('dejavu-sans', 'latin', 700), ...this.regular];
  private readonly filesById = new Map([...this.regular, ...this.bold].map((file) => [file.id, file]));
  private readonly opened = new Map<string, { font: Font; bytes: Buffer }>();
  private readonly chosen = new Map<string, string | null>();

  /** The first font that has a glyph for every code point of the grapheme, or null when none has. */
  fontFor(grapheme: string, isBold: boolean): string | null {
    const key = (isBold ? 'b' : 'r') + grapheme;
    const known = this.chosen.get(key);
    if (known !== undefined) return known;
    const codePoints = Array.from(grapheme, (character) => character.codePointAt(0) ?? 0);
    const file = (isBold ? this.bold : this.regular).find((candidate) => this.covers(candidate, codePoints));
    this.chosen.set(key, file?.id ?? null);
    return file?.id ?? null;
  }

  /** The font file of an identifier given by `fontFor`. */
  bytesOf(id: string): Buffer {
    const file = this.filesById.get(id);
    if (file === undefined) throw new RangeError(`no font ${id}`);
    return this.open(file).bytes;
  }

  private covers(file: FontFile, codePoints: readonly number[]): boolean {
    const isListed = codePoints.every((point) => file.ranges.some(([from, to]) => from <= point && point <= to));
    return isListed && codePoints.every((point) => this.open(file).font.hasGlyphForCodePoint(point));
  }

  private open(file: FontFile): { font: Font; bytes: Buffer } {
    const known = this.opened.get(file.id);
    if (known !== undefined) return known;
    const bytes = unpackWoff(readFileSync(file.path));
    const entry = { bytes, font: readFont(bytes) };
    this.opened.set(file.id, entry);
    return entry;
  }
}
