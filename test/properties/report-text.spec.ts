import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { FontShelf } from '../../libs/reports/font-shelf.js';
import { layoutText, type TypeCase } from '../../libs/reports/line-layout.js';
import { splitGraphemes, toVisibleText } from '../../libs/reports/visible-text.js';
import { seedFromEnvironment } from '../setup/seed.js';

const STYLE = { sizePt: 10, isBold: false };
const shelf = new FontShelf();
const typeCase: TypeCase = {
  fontFor: (grapheme, isBold) => shelf.fontFor(grapheme, isBold),
  measurePt: (text) => 10 * text.length,
};

const mixedText = fc
  .array(fc.oneof(fc.string({ unit: 'binary' }), fc.constantFrom('שלום', 'درجة (3)', '硬さ', 'कि', 'word', ' ', '\n', '12', '۱۲')), {
    maxLength: 20,
  })
  .map((parts) => parts.join(''));

// Brackets turn round in right-to-left text, so both hands of a pair count as one.
const sortedInk = (text: string) =>
  Array.from(text.replace(/\s/g, ''), (character) => '()[]{}<>«»'.includes(character) ? '|' : character).sort().join('');

describe('text on a report', () => {
  test('every character arrives, none twice, each drawn by a font that has it', () => {
    fc.assert(
      fc.property(mixedText, fc.integer({ min: 10, max: 400 }), (text, widthPt) => {
        const visible = toVisibleText(text, (grapheme) => shelf.fontFor(grapheme, false) !== null);
        const pieces = layoutText(text, widthPt, STYLE, typeCase).flatMap((line) => line.pieces);
        const drawn = pieces.map((piece) => piece.text).join('');
        expect(drawn.replace(/\s/g, '').length).toBe(visible.replace(/\s/g, '').length);
        expect(sortedInk(drawn).replace(/[^\w|]/g, '')).toBe(sortedInk(visible).replace(/[^\w|]/g, ''));
      }),
      { ...seedFromEnvironment(), numRuns: 300 },
    );
  });

  test('no line is wider than its column unless it is one character', () => {
    fc.assert(
      fc.property(mixedText, fc.integer({ min: 10, max: 400 }), (text, widthPt) => {
        for (const line of layoutText(text, widthPt, STYLE, typeCase)) {
          const drawn = line.pieces.map((piece) => piece.text).join('');
          if (splitGraphemes(drawn).length > 1) expect(line.widthPt).toBeLessThanOrEqual(widthPt);
        }
      }),
      { ...seedFromEnvironment(), numRuns: 300 },
    );
  });

  test('nothing invisible or direction-steering is drawn', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 200 }), (text) => {
        const drawn = layoutText(text, 200, STYLE, typeCase).flatMap((line) => line.pieces.map((piece) => piece.text)).join('');
        expect(drawn).not.toMatch(/[\p{Cc}\p{Cs}\p{Co}\u202a-\u202e\u2066-\u2069\u200b\u200e\u200f\ufeff]/u);
      }),
      { ...seedFromEnvironment(), numRuns: 300 },
    );
  });
});
