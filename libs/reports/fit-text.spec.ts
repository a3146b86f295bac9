import { describe, expect, test } from '@jest/globals';
import { fitText } from './fit-text.js';
import { reportCanvas } from './report-canvas.js';

const canvas = reportCanvas('label', 'fit', '2031-04-05T07:08:09Z', {});
const SIZES = { largestPt: 30, smallestPt: 10, isBold: true };
const widthAt = (text: string, sizePt: number): number => canvas.layout(text, Infinity, { sizePt, isBold: true })[0]!.widthPt;
const wordsOf = (text: string, widthPt: number, heightPt: number) => {
  const fitted = fitText(canvas, text, { widthPt, heightPt }, SIZES);
  const lines = fitted.lines.map((line) => line.pieces.map((piece) => piece.text).join(''));
  return { sizePt: fitted.style.sizePt, lines, isCut: fitted.isCut };
};

describe('text fitted to a box', () => {
  test('takes the largest size when there is room, and not a larger one', () => {
    expect(wordsOf('HOLD', 1000, 1000)).toEqual({ sizePt: 30, lines: ['HOLD'], isCut: false });
  });

  test('is as large as the width allows, one step either side', () => {
    const exact = widthAt('ACCEPTED', 20);
    expect(wordsOf('ACCEPTED', exact + 0.001, 1000).sizePt).toBe(20);
    expect(wordsOf('ACCEPTED', exact - 0.001, 1000).sizePt).toBe(19);
  });

  test('is as large as the height allows, one step either side', () => {
    expect(wordsOf('HOLD', 1000, 28.001).sizePt).toBe(20);
    expect(wordsOf('HOLD', 1000, 27.999).sizePt).toBe(19);
  });

  test('breaks between words, and splits none to be larger', () => {
    const fitted = wordsOf('NOT DECIDED', widthAt('DECIDED', 25) + 0.001, 1000);
    expect(fitted).toEqual({ sizePt: 25, lines: ['NOT', 'DECIDED'], isCut: false });
  });

  test('splits a word in the smallest size only, and says what it had to cut', () => {
    const widthPt = widthAt('xxxxxxxxxx', 10) + 0.001;
    expect(wordsOf('x'.repeat(20), widthPt, 28.001)).toEqual({ sizePt: 10, lines: ['x'.repeat(10), 'x'.repeat(10)], isCut: false });
    const cut = wordsOf('x'.repeat(21), widthPt, 28.001);
    expect(cut).toMatchObject({ sizePt: 10, isCut: true });
    expect(cut.lines).toHaveLength(2);
    expect(cut.lines[1]).toMatch(/^x{5,9}…$/);
  });
});
