/**
 * Breaks text into lines and each line into pieces of one font and one direction, in the order they stand on paper.
 * Break opportunities: Unicode Standard Annex 14 (linebreak). Direction: Unicode Standard Annex 9 (bidi-js).
 */
import bidiModule from 'bidi-js';
import LineBreaker from 'linebreak';
import { splitGraphemes, toVisibleText } from './visible-text.js';

export interface TextStyle {
  readonly sizePt: number;
  readonly isBold: boolean;
  /** Line height in multiples of the size, where the usual one, which has room for every script, is not wanted. */
  readonly leading?: number;
}

/** Characters drawn together, in reading order; xPt counts from the left end of the line. */
export interface TextPiece {
  readonly text: string;
  readonly fontId: string;
  readonly xPt: number;
  readonly widthPt: number;
}

export interface TextLine {
  readonly pieces: readonly TextPiece[];
  readonly widthPt: number;
  readonly isRightToLeft: boolean;
}

/** What layout needs to know of fonts. `fontFor` answers null for a grapheme that no font has. */
export interface TypeCase {
  fontFor(grapheme: string, isBold: boolean): string | null;
  measurePt(text: string, fontId: string, sizePt: number): number;
}

// The package's types describe an ES module; what Node loads is CommonJS, whose export is the factory itself.
const bidi = (bidiModule as unknown as typeof bidiModule.default)();
const RIGHT_TO_LEFT = /[\p{Script=Arabic}\p{Script=Hebrew}\p{Script=Syriac}\p{Script=Nko}\p{Script=Thaana}]/u;

/** One paragraph, prepared: for each UTF-16 unit its font and its bidi level, and whether a grapheme starts there. */
class Paragraph {
  private readonly fontAt: string[] = [];
  private readonly startsGrapheme: boolean[] = [];
  private readonly levels: Uint8Array;
  private readonly embedding: ReturnType<typeof bidi.getEmbeddingLevels> | null;
  readonly isRightToLeft: boolean;

  constructor(
    private readonly text: string,
    private readonly style: TextStyle,
    private readonly typeCase: TypeCase,
  ) {
    for (const grapheme of splitGraphemes(text)) this.addGrapheme(grapheme);
    this.embedding = RIGHT_TO_LEFT.test(text) ? bidi.getEmbeddingLevels(text) : null;
    this.levels = this.embedding?.levels ?? new Uint8Array(text.length);
    this.isRightToLeft = (this.embedding?.paragraphs[0]?.level ?? 0) % 2 === 1;
  }

  /** Greedy lines no wider than the given width; a word wider than that is split between graphemes. */
  breakInto(widthPt: number): TextLine[] {
    const lines: TextLine[] = [];
    let start = 0;
    let usedPt = 0;
    const finish = (end: number) => {
      lines.push(this.line(start, end));
      start = end;
      usedPt = 0;
    };
    for (const [from, to] of this.unbreakableStretches()) {
      const inkPt = this.measure(from, this.trimmedEnd(from, to));
      if (usedPt > 0 && usedPt + inkPt > widthPt) finish(from);
      if (inkPt <= widthPt) {
        usedPt += this.measure(from, to);
        continue;
      }
      for (const [graphemeFrom, graphemeTo] of this.graphemesIn(from, to)) {
        const graphemePt = this.measure(graphemeFrom, graphemeTo);
        if (usedPt > 0 && usedPt + graphemePt > widthPt) finish(graphemeFrom);
        usedPt += graphemePt;
      }
    }
    if (start < this.text.length || lines.length === 0) finish(this.text.length);
    return lines;
  }

  private addGrapheme(grapheme: string): void {
    // toVisibleText left graphemes that one font has, or single characters; their sequence may form new graphemes.
    const whole = this.typeCase.fontFor(grapheme, this.style.isBold);
    const parts = whole === null ? Array.from(grapheme) : [grapheme];
    for (const part of parts) {
      const fontId = this.typeCase.fontFor(part, this.style.isBold);
      if (fontId === null) throw new Error('a character without a glyph reached the layout');
      for (let unit = 0; unit < part.length; unit += 1) {
        this.fontAt.push(fontId);
        this.startsGrapheme.push(unit === 0);
      }
    }
  }

  private *unbreakableStretches(): Generator<[number, number]> {
    const breaker = new LineBreaker(this.text);
    let from = 0;
    for (let next = breaker.nextBreak(); next !== null; next = breaker.nextBreak()) {
      yield [from, next.position];
      from = next.position;
    }
  }

  private *graphemesIn(from: number, to: number): Generator<[number, number]> {
    let start = from;
    for (let i = from + 1; i <= to; i += 1) {
      if (i < to && this.startsGrapheme[i] !== true) continue;
      yield [start, i];
      start = i;
    }
  }

  private trimmedEnd(from: number, to: number): number {
    let end = to;
    while (end > from && this.text[end - 1] === ' ') end -= 1;
    return end;
  }

  private measure(from: number, to: number): number {
    let sumPt = 0;
    let start = from;
    for (let i = from + 1; i <= to; i += 1) {
      if (i < to && this.fontAt[i] === this.fontAt[start] && this.levels[i] === this.levels[start]) continue;
      if (i > start) sumPt += this.typeCase.measurePt(this.text.slice(start, i), this.fontAt[start] ?? '', this.style.sizePt);
      start = i;
    }
    return sumPt;
  }

  private visualOrder(start: number, end: number): number[] {
    const order = Array.from({ length: end - start }, (_, i) => start + i);
    if (this.embedding === null || order.length === 0) return order;
    for (const [from = start, to = from] of bidi.getReorderSegments(this.text, this.embedding, start, end - 1)) {
      const reversed = order.slice(from - start, to - start + 1).reverse();
      order.splice(from - start, reversed.length, ...reversed);
    }
    return order;
  }

  private line(start: number, lineEnd: number): TextLine {
    const end = this.trimmedEnd(start, lineEnd);
    const pieces: TextPiece[] = [];
    let xPt = 0;
    for (const [from, to] of this.runs(this.visualOrder(start, end))) {
      for (const text of this.drawable(from, to)) {
        const fontId = this.fontAt[from] ?? '';
        const widthPt = this.typeCase.measurePt(text, fontId, this.style.sizePt);
        pieces.push({ text, fontId, xPt, widthPt });
        xPt += widthPt;
      }
    }
    return { pieces, widthPt: xPt, isRightToLeft: this.isRightToLeft };
  }

  /** Stretches of the text, each given by its logical ends, in visual order. */
  private *runs(order: readonly number[]): Generator<[number, number]> {
    let first = 0;
    for (let i = 1; i <= order.length; i += 1) {
      const here = order[i];
      const previous = order[i - 1] ?? 0;
      const step = (this.levels[previous] ?? 0) % 2 === 1 ? -1 : 1;
      const continues =
        here === previous + step && this.levels[here] === this.levels[previous] && this.fontAt[here] === this.fontAt[previous];
      if (continues) continue;
      const start = order[first] ?? 0;
      yield [Math.min(start, previous), Math.max(start, previous) + 1];
      first = i;
    }
  }

  /**
   * The text of a run as the font's shaper wants it. The shaper turns a run round by its script, so a run without
   * right-to-left letters is turned round here, and digits of a right-to-left script go one at a time.
   */
  private drawable(from: number, to: number): string[] {
    const logical = this.text.slice(from, to);
    const isTurned = (this.levels[from] ?? 0) % 2 === 1;
    if (!isTurned) return RIGHT_TO_LEFT.test(logical) ? splitGraphemes(logical) : [logical];
    const mirrored = Array.from(logical, (character) => bidi.getMirroredCharacter(character) ?? character).join('');
    return [RIGHT_TO_LEFT.test(logical) ? mirrored : splitGraphemes(mirrored).reverse().join('')];
  }
}

/**
 * Lays text out in lines of at most `widthPt`, in points. An empty text has no line; an empty paragraph inside a text
 * is one line without pieces.
 */
export function layoutText(text: string, widthPt: number, style: TextStyle, typeCase: TypeCase): TextLine[] {
  if (text === '') return [];
  const visible = toVisibleText(text, (grapheme) => typeCase.fontFor(grapheme, style.isBold) !== null);
  return visible.split('\n').flatMap((paragraph) => new Paragraph(paragraph, style, typeCase).breakInto(widthPt));
}
