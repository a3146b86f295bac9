import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { chainPeriods, netLengthMap, type RecordedCounterPeriod } from '#libs/length';
import { recordRef } from '../fixtures/string-lengths.js';
import { seedFromEnvironment } from '../setup/seed.js';
import { cutOutsArbitrary, partitionArbitrary, strictMapArbitrary } from './length.arbitraries.js';

const position = fc.integer({ min: -2_000_000, max: 8_000_000 });

describe('every piecewise linear map', () => {
  test('is monotone, rounded or not', () => {
    fc.assert(
      fc.property(strictMapArbitrary(), position, fc.integer({ min: 1, max: 1_000 }), (map, x, step) => {
        expect(map.direction * (map.at(x + step) - map.at(x))).toBeGreaterThan(0);
        expect(map.direction * (map.atMm(x + step) - map.atMm(x))).toBeGreaterThanOrEqual(0);
      }),
      seedFromEnvironment(),
    );
  });

  test('is undone by its inverse map and by upperInverseAt', () => {
    fc.assert(
      fc.property(strictMapArbitrary(), position, (map, x) => {
        const y = map.at(x);
        expect(map.upperInverseAt(y)).toBeCloseTo(x, 5);
        expect(map.inverse().at(y)).toBeCloseTo(x, 5);
      }),
      seedFromEnvironment(),
    );
  });

  test('chained, gives what its parts give one after the other', () => {
    fc.assert(
      fc.property(strictMapArbitrary(), strictMapArbitrary(), position, (outer, first, x) => {
        const oneByOne = outer.at(first.at(x));
        expect(Math.abs(outer.after(first).at(x) - oneByOne)).toBeLessThan(1e-12 * Math.max(1e6, Math.abs(oneByOne)) + 1e-4);
      }),
      seedFromEnvironment(),
    );
  });

  test('maps a partition to a partition: no gap and no overlap of 1 mm', () => {
    fc.assert(
      fc.property(strictMapArbitrary(), partitionArbitrary(-5_000, 900_000), (map, partition) => {
        const images = partition.map(({ fromMm, toMm }) => [map.atMm(fromMm), map.atMm(toMm)].sort((a, b) => a - b));
        const lengthMm = images.reduce((sum, [from, to]) => sum + to! - from!, 0);
        expect(lengthMm).toBe(Math.abs(map.atMm(900_000) - map.atMm(-5_000)));
      }),
      seedFromEnvironment(),
    );
  });
});

describe('the net length map', () => {
  test('counts, one by one, the millimetres not cut out', () => {
    fc.assert(
      fc.property(cutOutsArbitrary(), fc.integer({ min: 0, max: 60_000 }), fc.integer({ min: 0, max: 80_000 }), (cutOuts, footageMm, atUs) => {
        const done = cutOuts.filter((cut) => cut.atUs <= atUs);
        let counted = 0;
        for (let mm = 0; mm < footageMm; mm += 1) if (!done.some((cut) => cut.fromMm <= mm && mm < cut.toMm)) counted += 1;
        expect(netLengthMap(cutOuts, atUs).at(footageMm)).toBe(counted);
      }),
      { ...seedFromEnvironment(), numRuns: 40 },
    );
  });

  test('inverts to pipe that is there: its own footage, or the upper end of the cut it was in', () => {
    fc.assert(
      fc.property(cutOutsArbitrary(), fc.integer({ min: 0, max: 300_000 }), (cutOuts, footageMm) => {
        const map = netLengthMap(cutOuts);
        const found = map.upperInverseAt(map.at(footageMm));
        expect(cutOuts.some((cut) => cut.fromMm <= found && found < cut.toMm)).toBe(false);
        expect(map.at(found)).toBe(map.at(footageMm));
        expect(found).toBeGreaterThanOrEqual(footageMm);
      }),
      seedFromEnvironment(),
    );
  });
});

describe('chained counter periods', () => {
  test('a corrected scale moves every later period that continues, by the same amount', () => {
    const scale = fc.integer({ min: 500, max: 2_000 }).map((thousandths) => thousandths / 1_000);
    const later = fc.array(fc.record({ startReading: fc.integer({ min: 0, max: 1_000 }), counts: fc.integer({ min: 1, max: 100_000 }), scale }), { minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(scale, scale, fc.integer({ min: 1, max: 100_000 }), later, (firstScale, correctedScale, counts, periods) => {
        const chainWith = (scaleMmPerCount: number) => {
          const chain: RecordedCounterPeriod[] = [
            { record: recordRef('counter-period', '0'), startReading: 0, start: { kind: 'established', footageMm: 100 }, scaleMmPerCount, scaleRelativeU: 0 },
          ];
          let previousEndReading = counts;
          periods.forEach((period, index) => {
            chain.push({
              record: recordRef('counter-period', `${index + 1}`),
              startReading: period.startReading,
              start: { kind: 'continues', previousEndReading },
              scaleMmPerCount: period.scale,
              scaleRelativeU: 0,
            });
            previousEndReading = period.startReading + period.counts;
          });
          return chainPeriods(chain).map(({ startFootageMm }) => startFootageMm);
        };
        const before = chainWith(firstScale);
        const after = chainWith(correctedScale);
        expect(after[0]).toBe(before[0]);
        for (let index = 1; index < before.length; index += 1) {
          expect(after[index]! - before[index]!).toBeCloseTo((correctedScale - firstScale) * counts, 4);
        }
      }),
      seedFromEnvironment(),
    );
  });
});
