import { describe, expect, test } from '@jest/globals';
import { extentOf, footageText, movedExtent, NO_PIPE, sameExtent } from './extent.js';
import { LineKnowledge } from './line-knowledge.js';

const AT = '2026-03-02T08:15:00.000000Z';
const PERIOD = '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b0c';

/** Footage = 1000 mm + scale × reading. */
const lineOf = (scaleMmPerCount: number): LineKnowledge =>
  new LineKnowledge({
    masterCounter: 'main',
    periods: [{
      record: { kind: 'counter-period', id: PERIOD, version: 1 },
      counter: 'main',
      during: { from: '2026-03-01T00:00:00.000000Z', until: null },
      startReading: 0,
      start: { kind: 'established', footageMm: 1000 },
      scaleMmPerCount,
      scaleRelativeU: 0.0005,
    }],
    setups: [],
    cutOuts: [],
  });

const byReading = { from: { counterReading: '100' }, to: { counterReading: '200' } };
const byFootage = { from: { footageMm: 1150 }, to: { footageMm: 1500 } };

describe('the footage of the places given', () => {
  test('touching and overlapping places become one interval; single places are a millimetre long', () => {
    const single = { from: { footageMm: 9000 }, to: null };
    expect(extentOf('extents', [single, byFootage, byReading], AT, lineOf(1))).toEqual({
      extent: [{ fromMm: 1100, toMm: 1500 }, { fromMm: 9000, toMm: 9001 }],
      restsOn: [{ kind: 'counter-period', id: PERIOD }],
    });
  });

  test('another scale moves what was read and leaves what was given as footage', () => {
    const [before, after] = [lineOf(1), lineOf(1.1)].map((line) => extentOf('extents', [byReading], AT, line));
    expect(after?.extent).toEqual([{ fromMm: 1110, toMm: 1220 }]);
    expect(sameExtent(before ?? NO_PIPE, after ?? NO_PIPE)).toBe(false);
    expect(movedExtent(before ?? NO_PIPE, after ?? NO_PIPE)).toEqual({ columns: after, said: 'footage [1100, 1200) mm became [1110, 1220) mm' });
    expect(movedExtent(after ?? NO_PIPE, after ?? NO_PIPE)).toBeNull();
    expect(sameExtent(extentOf('extents', [byFootage], AT, lineOf(1)), extentOf('extents', [byFootage], AT, lineOf(1.1)))).toBe(true);
  });

  test('no places give no footage', () => {
    expect(extentOf('extents', [], AT, lineOf(1))).toEqual(NO_PIPE);
    expect(footageText(NO_PIPE)).toBe('');
  });

  test('a refusal names the place it is about', () => {
    const reversed = { from: { footageMm: 5 }, to: { footageMm: 5 } };
    expect(() => extentOf('extents', [byFootage, reversed], AT, lineOf(1))).toThrow(
      expect.objectContaining({ status: 422, errors: [expect.objectContaining({ field: 'extents[1].to', value: 5 })] }),
    );
  });
});
