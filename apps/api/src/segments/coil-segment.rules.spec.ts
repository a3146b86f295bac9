import { describe, expect, test } from '@jest/globals';
import { segmentFindings, stripSpanOf, type SegmentFigures } from './coil-segment.rules.js';

/** 7,850 kg of 400 mm by 5 mm strip is 1 m³ / 0.002 m² = 500 m long, by hand. */
const coil = { number: 'LM-01', widthMm: '400', thicknessMm: '5.00', massKg: '7850', lengthMm: 500_000 };

const segment = (pipeMm: number, strip: readonly [number, number], lengthMm: number | null = 500_000): SegmentFigures => ({
  span: { fromMm: 10_000, toMm: 10_000 + pipeMm },
  stripSpan: { fromMm: strip[0], toMm: strip[1] },
  runs: 'head-first',
  coil: { ...coil, lengthMm },
});

describe('forming elongation', () => {
  test.each([98_000, 100_000, 102_000])('%d mm of pipe from 100 m of strip is usual', (pipeMm) => {
    expect(segmentFindings(segment(pipeMm, [1000, 101_000]))).toEqual([]);
  });

  test.each([[97_999, '0.97999'], [102_001, '1.02001'], [200_000, '2.00000']])('%d mm of pipe from 100 m of strip is asked about', (pipeMm, value) => {
    expect(segmentFindings(segment(pipeMm, [1000, 101_000]))).toEqual([
      { tier: 'implausible', field: 'to', value, limit: 'usually 0.98 to 1.02 mm of pipe for each mm of strip' },
    ]);
  });

  test('the way the coil ran plays no part', () => {
    const tailFirst = { ...segment(103_000, [0, 100_000]), runs: 'tail-first' as const };
    expect(segmentFindings(tailFirst)).toEqual(segmentFindings(segment(103_000, [0, 100_000])));
  });
});

describe('strip beyond its coil', () => {
  const limitsOf = (figures: SegmentFigures): string[] => segmentFindings(figures).map(({ limit }) => limit);

  test('2 % beyond the stated length is usual, a millimetre more is asked about', () => {
    expect(limitsOf(segment(10_000, [500_000, 510_000]))).toEqual([]);
    expect(segmentFindings(segment(10_001, [500_000, 510_001]))).toEqual([{
      tier: 'implausible', field: 'stripToMm', value: '510001',
      limit: 'usually within coil LM-01: the 500000 mm stated for it, and 2 %',
    }]);
  });

  test('without a stated length the mass alone decides, at 5 %', () => {
    expect(limitsOf(segment(10_000, [515_000, 525_000], null))).toEqual([]);
    expect(limitsOf(segment(10_001, [515_000, 525_001], null))).toEqual([
      'usually within coil LM-01: the 500000 mm its mass, width and thickness give, and 5 %',
    ]);
  });

  test('both limits are named when both are passed, and the mass also where the stated length is too long', () => {
    expect(limitsOf(segment(10_000, [516_000, 526_000]))).toHaveLength(2);
    expect(limitsOf(segment(10_000, [516_000, 526_000], 600_000))).toEqual([
      'usually within coil LM-01: the 500000 mm its mass, width and thickness give, and 5 %',
    ]);
  });
});

describe('the strip of a segment', () => {
  test('is half-open, from head to tail', () => {
    expect(stripSpanOf({ stripFromMm: 0, stripToMm: 1 })).toEqual({ fromMm: 0, toMm: 1 });
  });

  test.each([[5, 5], [6, 5]])('from %d to %d is refused at stripToMm', (stripFromMm, stripToMm) => {
    expect(() => stripSpanOf({ stripFromMm, stripToMm })).toThrow(
      expect.objectContaining({ status: 422, errors: [expect.objectContaining({ field: 'stripToMm', value: 5 })] }),
    );
  });
});
