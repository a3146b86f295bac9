import { describe, expect, test } from '@jest/globals';
import { placeImportantFirst, placeInRows } from './label-placement.js';

const label = (text: string, centrePt: number) => ({ text, centrePt, widthPt: 20 });

describe('labels along a line', () => {
  test('one near an end is moved onto the line', () => {
    expect(placeImportantFirst([label('a', 2), label('b', 99)], 0, 100)).toEqual([
      { text: 'a', leftPt: 0, rowIndex: 0 },
      { text: 'b', leftPt: 80, rowIndex: 0 },
    ]);
  });

  test('a gap of 6 points is enough, less is not', () => {
    const texts = (centrePt: number) => placeImportantFirst([label('first', 10), label('second', centrePt)], 0, 100).length;
    expect(texts(36)).toBe(2);
    expect(texts(35.9)).toBe(1);
  });

  test('labels that must all be seen go to further rows', () => {
    const rows = placeInRows([label('a', 50), label('b', 52), label('c', 54), label('d', 90)], 0, 100);
    expect(rows.map((placed) => placed.rowIndex)).toEqual([0, 1, 2, 0]);
  });
});
