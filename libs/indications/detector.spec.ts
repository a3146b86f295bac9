import { describe, expect, test } from '@jest/globals';
import { AT_LEAST, AT_MOST, type Detection, IndicationDetector, MEASURED, mayContinue } from '#libs/indications';
import { interval, IntervalSet } from '#libs/intervals';
import { BASE, detect, RULE, signal } from './signal.factory.js';

const places = ({ indications }: Detection): number[][] => indications.map(({ fromMm, toMm }) => [fromMm, toMm]);
const edges = ({ indications }: Detection): string[][] => indications.map(({ begins, ends }) => [begins, ends]);

describe('an indication', () => {
  test('reaches to both sides as far as the release level, and tells of itself', () => {
    expect(detect(signal([0, 29, 30, 49, 50, 80, 80, 30, 29, 0])).indications).toEqual([
      { fromMm: 2, toMm: 8, begins: 'signal', ends: 'signal', peak: { value: 80, atMm: 5, isBound: false }, samples: 6, runs: 1, missingMm: 0 },
    ]);
  });

  test('begins at the threshold exactly, and not below it', () => {
    expect(places(detect(signal([0, 50, 0]), { release: 50 }))).toEqual([[1, 2]]);
    expect(places(detect(signal([0, 49.99, 0])))).toEqual([]);
  });

  test('below: at the threshold exactly, and the least value is the peak', () => {
    const { indications } = detect(signal([6, 5.5, 5, 4.2, 5.6, 6]), { sense: 'below', threshold: 5, release: 5.5 });
    expect(indications).toMatchObject([{ fromMm: 1, toMm: 4, peak: { value: Math.fround(4.2), atMm: 3, isBound: false } }]);
    expect(places(detect(signal([6, 5.01, 6]), { sense: 'below', threshold: 5, release: 5 }))).toEqual([]);
  });

  test('compares levels in the precision of the samples: 0.7 kept as a single is at a threshold of 0.7', () => {
    const level = { threshold: 0.7, release: 0.7 };
    expect(places(detect(signal([0, 0.7, 0]), level))).toEqual([[1, 2]]);
    expect(places(detect({ ...signal([0, 0, 0]), values: Float64Array.of(0, 0.7, 0) }, level))).toEqual([[1, 2]]);
    expect(places(detect({ ...signal([0, 0, 0]), values: Float64Array.of(0, Math.fround(0.7), 0) }, level))).toEqual([]);
  });

  test('of exactly the minimum length is one; a millimetre shorter is counted as too short', () => {
    const block = signal([0, 60, 60, 60, 0]);
    expect(places(detect(block, { minimumLengthMm: 3 }))).toEqual([[1, 4]]);
    const short = detect(block, { minimumLengthMm: 4 });
    expect([short.indications, short.counts.tooShort]).toEqual([[], 1]);
  });

  test('is one with its neighbour nearer than the combining distance, and not at exactly that', () => {
    const block = signal([0, 60, 0, 0, 0, 70, 0]);
    expect(detect(block, { combiningMm: 4 }).indications).toMatchObject([{ fromMm: 1, toMm: 6, samples: 2, runs: 2, peak: { value: 70, atMm: 5 }, missingMm: 0 }]);
    expect(places(detect(block, { combiningMm: 3 }))).toEqual([[1, 2], [5, 6]]);
  });

  test('is combined before it is measured: short spots in a row count by their whole length', () => {
    expect(places(detect(signal([0, 60, 0, 60, 0, 60, 0]), { combiningMm: 2, minimumLengthMm: 5 }))).toEqual([[1, 6]]);
  });

  test('speaks for the pipe up to the next sample, at most for the pitch', () => {
    const block = { positionsMm: Int32Array.of(0, 10, 14, 30), values: Float64Array.of(0, 60, 0, 60), bounds: null };
    const found = detect(block, {}, { pitchMm: 10 });
    expect(places(found)).toEqual([[10, 14], [30, 40]]);
    expect(edges(found)).toEqual([['signal', 'signal'], ['gap', 'end-of-data']]);
    expect(found.gaps).toEqual([interval(24, 30)]);
  });

  test('of a line that stands: several readings of one millimetre, each at least that millimetre long', () => {
    const block = { positionsMm: Int32Array.of(0, 1, 1, 1, 2), values: Float64Array.of(0, 60, 0, 60, 0), bounds: null };
    expect(detect(block, {}, { pitchMm: 5 }).indications).toMatchObject([{ fromMm: 1, toMm: 2, runs: 2, samples: 2 }]);
  });
});

describe('missing samples', () => {
  test('end an indication as a gap, and what follows begins at one', () => {
    const found = detect(signal([0, 60, null, 60, 0]));
    expect(places(found)).toEqual([[1, 2], [3, 4]]);
    expect(edges(found)).toEqual([['signal', 'gap'], ['gap', 'signal']]);
    expect([found.gaps, found.counts.missingSamples]).toEqual([[interval(2, 3)], 1]);
  });

  test('are bridged up to exactly the length stated', () => {
    const block = signal([0, 60, null, null, 40, 0]);
    expect(detect(block, { bridgedGapMm: 2 }).indications).toMatchObject([{ fromMm: 1, toMm: 5, missingMm: 2, samples: 2, runs: 1 }]);
    expect(places(detect(block, { bridgedGapMm: 1 }))).toEqual([[1, 2]]);
  });

  test('bridge nothing when the signal behind them is quiet: it ended in the gap', () => {
    const found = detect(signal([0, 60, null, 0]), { bridgedGapMm: 9 });
    expect([places(found), edges(found)]).toEqual([[[1, 2]], [['signal', 'gap']]]);
  });

  test('keep an indication that is too short, since it may go on in them', () => {
    const found = detect(signal([0, 60, null, 0, 60, 0]), { minimumLengthMm: 2 });
    expect([places(found), found.counts.tooShort]).toEqual([[[1, 2]], 1]);
    expect(found.indications.map(mayContinue)).toEqual([true]);
  });

  test('between two that are combined are counted in it', () => {
    expect(detect(signal([0, 60, null, null, 0, 60, 0]), { combiningMm: 5 }).indications).toMatchObject([{ fromMm: 1, toMm: 6, runs: 2, missingMm: 2 }]);
  });

  test('are told though there is nothing else: a channel without a reading is one gap', () => {
    const found = detect(signal([null, null, null], 7));
    expect([found.indications, found.gaps, found.counts.missingSamples]).toEqual([[], [interval(7, 10)], 3]);
  });
});

describe('the ends of the data', () => {
  test('touch what runs there, which stays though it is short', () => {
    const found = detect(signal([60, 0, 60]), { minimumLengthMm: 5 });
    expect([places(found), edges(found)]).toEqual([[[0, 1], [2, 3]], [['end-of-data', 'signal'], ['signal', 'end-of-data']]]);
  });

  test('of no data at all is nothing', () => {
    expect(detect(signal([]))).toEqual({ indications: [], gaps: [], counts: { samples: 0, missingSamples: 0, saturatedSamples: 0, tooShort: 0, excluded: [] } });
  });
});

describe('exclusions', () => {
  const excluded = IntervalSet.of(interval(2, 4));

  test('form no indication, are neither bridged nor combined across, and say what was read there', () => {
    const found = detect(signal([0, 60, 70, null, 60, 0]), { combiningMm: 9, bridgedGapMm: 9 }, { excluded });
    expect([places(found), edges(found)]).toEqual([[[1, 2], [4, 5]], [['signal', 'exclusion'], ['exclusion', 'signal']]]);
    expect(found.counts.excluded).toEqual([{ fromMm: 2, toMm: 4, samples: 2, missingSamples: 1, samplesAtThreshold: 1 }]);
    expect(found.gaps).toEqual([]);
  });

  test('cut what a sample speaks for, and hold although no sample lies in them', () => {
    const block = { positionsMm: Int32Array.of(0, 1, 4), values: Float64Array.of(0, 60, 60), bounds: null };
    const found = detect(block, { bridgedGapMm: 9 }, { excluded, pitchMm: 3 });
    expect([places(found), edges(found)]).toEqual([[[1, 2], [4, 7]], [['signal', 'exclusion'], ['exclusion', 'end-of-data']]]);
    expect(found.counts.excluded).toEqual([]);
  });

  test('that end where the data begin play no part', () => {
    expect(edges(detect(signal([60, 0], 4), {}, { excluded }))).toEqual([['end-of-data', 'signal']]);
  });
});

describe('saturated samples', () => {
  const bounded = (values: readonly number[], bound: number) => ({ ...signal(values), bounds: Uint8Array.from(values, (value) => (value === 0 || value === 9 ? MEASURED : bound)) });

  test('at least so much reach every threshold above, since they may; the peak is a bound', () => {
    const found = detect(bounded([0, 20, 0], AT_LEAST));
    expect(found.indications).toMatchObject([{ fromMm: 1, toMm: 2, peak: { value: 20, isBound: true } }]);
    expect(found.counts.saturatedSamples).toBe(1);
  });

  test('count as their bound on the other side', () => {
    const thin = { sense: 'below' as const, threshold: 5, release: 5 };
    expect(places(detect(bounded([9, 6, 9], AT_LEAST), thin))).toEqual([]);
    expect(detect(bounded([9, 5, 9], AT_LEAST), thin).indications).toMatchObject([{ peak: { value: 5, isBound: false } }]);
    expect(detect(bounded([9, 6, 9], AT_MOST), thin).indications).toMatchObject([{ peak: { value: 6, isBound: true } }]);
    expect(places(detect(bounded([0, 49, 0], AT_MOST)))).toEqual([]);
  });
});

describe('block by block', () => {
  test('is settled as soon as nothing that follows can change it', () => {
    const detector = new IndicationDetector({ ...RULE, combiningMm: 3 }, BASE);
    expect(detector.add(signal([0, 60, 0])).indications).toEqual([]);
    expect(detector.rest().indications).toHaveLength(1);
    expect(detector.add(signal([0], 3)).indications).toEqual([]);
    expect(detector.add(signal([0, 0], 4)).indications).toMatchObject([{ fromMm: 1, toMm: 2 }]);
    expect(detector.rest().indications).toEqual([]);
  });

  test('keeps nothing of what it has told, however much that was', () => {
    const sizeAfter = (blocks: number): number => {
      const detector = new IndicationDetector({ ...RULE, combiningMm: 2 }, BASE);
      for (let nth = 0; nth < blocks; nth += 1) detector.add(signal([0, 60, 0, null, 0, 0], 1_000_000 + 6 * nth));
      expect(detector.counts().missingSamples).toBe(blocks);
      return JSON.stringify(detector).length;
    };
    expect(sizeAfter(10_000)).toBeLessThan(sizeAfter(10) + 50);
  });

  test('takes nothing of a block that it refuses', () => {
    const detector = new IndicationDetector(RULE, BASE);
    detector.add(signal([0, 60], 5));
    expect(() => detector.add(signal([0], 5))).toThrow(new RangeError('footage falls from 6 to 5 mm at sample 0'));
    const falling = { positionsMm: Int32Array.of(8, 7), values: Float32Array.of(60, 60), bounds: null };
    expect(() => detector.add(falling)).toThrow(new RangeError('footage falls from 8 to 7 mm at sample 1'));
    expect(detector.counts().samples).toBe(2);
    expect(detector.add(signal([0, 0], 7)).indications).toMatchObject([{ fromMm: 6, toMm: 7 }]);
  });

  test.each([
    [{ ...signal([0, 0]), values: Float32Array.of(0) }, 'arrays of different lengths: 2 positions, 1 values, no bounds'],
    [{ ...signal([0]), bounds: Uint8Array.of(0, 0) }, 'arrays of different lengths: 1 positions, 1 values, 2 bounds'],
    [{ ...signal([0, 0]), bounds: Uint8Array.of(0, 3) }, 'bound of sample 1 is none of 0, 1 and 2: 3'],
  ])('refuses arrays that do not fit (%#)', (block, message) => {
    expect(() => detect(block)).toThrow(new RangeError(message));
  });

  test.each([
    [{ release: 50.1 }, 'release is beyond the threshold: 50.1 against 50 (above)'],
    [{ sense: 'below' as const, threshold: 5, release: 4.9 }, 'release is beyond the threshold: 4.9 against 5 (below)'],
    [{ threshold: Number.NaN }, 'threshold is not a finite number: NaN'],
    [{ release: Number.NEGATIVE_INFINITY }, 'release is not a finite number: -Infinity'],
    [{ minimumLengthMm: -1 }, 'minimumLengthMm is not a whole number from 0: -1'],
    [{ combiningMm: 0.5 }, 'combiningMm is not a whole number from 0: 0.5'],
    [{ bridgedGapMm: Number.POSITIVE_INFINITY }, 'bridgedGapMm is not a whole number from 0: Infinity'],
  ])('refuses a rule that cannot be (%#)', (rule, message) => {
    expect(() => detect(signal([0]), rule)).toThrow(new RangeError(message));
  });

  test('refuses a pitch below a millimetre', () => {
    expect(() => detect(signal([0]), {}, { pitchMm: 0 })).toThrow(new RangeError('pitchMm is not a whole number from 1: 0'));
  });
});
