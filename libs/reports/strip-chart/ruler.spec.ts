import { describe, expect, test } from '@jest/globals';
import { Canvas } from '../canvas.js';
import { cutToFit, oneLine, roomyRuler } from './ruler.js';

const canvas = new Canvas({ sheet: 'A4', title: 'widths', language: 'en', createdAt: new Date(0) });
const widthIn = (text: string, isBold: boolean): number => canvas.layout(text, Infinity, { sizePt: 10, isBold })[0]?.widthPt ?? 0;

describe('the roomy ruler', () => {
  // DejaVu Sans is among the widest of the fonts that programs take for sans-serif.
  test.each([false, true])('leaves each character of Latin, Greek and Cyrillic the room that a wide font takes (bold: %s)', (isBold) => {
    const points = [[0x21, 0x7e], [0xa1, 0xac], [0xae, 0x17f], [0x391, 0x3a1], [0x3a3, 0x3c9], [0x410, 0x44f], [0x2013, 0x2014], [0x2264, 0x2265]]
      .flatMap(([from = 0, to = 0]) => Array.from({ length: to - from + 1 }, (_, at) => String.fromCodePoint(from + at)));
    expect(points.length).toBeGreaterThan(350);
    const narrow = points.filter((character) => roomyRuler(character, 10, isBold) < widthIn(character, isBold) - 0.01)
      .map((character) => `${character} ${(widthIn(character, isBold) / roomyRuler(character, 10, isBold)).toFixed(2)}`);
    expect(narrow).toEqual([]);
  });

  test('grows with the size', () => {
    expect(roomyRuler('check failed', 20, false)).toBeCloseTo(2 * roomyRuler('check failed', 10, false), 9);
    expect(roomyRuler('', 20, true)).toBe(0);
  });
});

test('a text is cut where it no longer fits, with an ellipsis', () => {
  const ruler = (text: string): number => Array.from(text).length;
  expect(cutToFit('abcdef', 6, 1, false, ruler)).toBe('abcdef');
  expect(cutToFit('abcdef', 4, 1, false, ruler)).toBe('abc…');
  expect(cutToFit('ab cdef', 4, 1, false, ruler)).toBe('ab…');
  expect(cutToFit('abcdef', 0, 1, false, ruler)).toBe('…');
});

test('a text becomes one line without anything hidden', () => {
  expect(oneLine('a\r\n\tb\u202ec\u0000\ud800\uffff')).toBe('a b[U+202E]c[U+0000][U+D800][U+FFFF]');
});
