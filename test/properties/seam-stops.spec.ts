import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { netLengthMap } from '#libs/length';
import { affectedPipe, type AffectedPipe, type NoPipe } from '../../apps/api/src/seam-stops/affected-pipe.js';
import { aCutOut } from '../fixtures/string-lengths.js';
import { seedFromEnvironment } from '../setup/seed.js';

interface Stop {
  readonly footageMm: number;
  readonly cuts: readonly { readonly fromMm: number; readonly toMm: number }[];
  readonly minMm: number;
  readonly maxMm: number;
  readonly doubtMm: number;
  readonly influenceMm: number;
}

/** Some sixty millimetres of pipe, cut up to three times, and a station whose path is a range of a few millimetres. */
const stopArbitrary: fc.Arbitrary<Stop> = fc
  .record({
    cuts: fc.array(fc.record({ gapMm: fc.integer({ min: 0, max: 15 }), lengthMm: fc.integer({ min: 1, max: 6 }) }), { maxLength: 3 }),
    aboveMm: fc.integer({ min: 0, max: 30 }),
    maxMm: fc.integer({ min: 0, max: 60 }),
    rangeMm: fc.integer({ min: 0, max: 8 }),
    doubtMm: fc.integer({ min: 0, max: 4 }),
    influenceMm: fc.integer({ min: 0, max: 9 }),
  })
  .map(({ cuts, aboveMm, maxMm, rangeMm, doubtMm, influenceMm }) => {
    let reached = 0;
    const removed = cuts.map(({ gapMm, lengthMm }) => {
      const fromMm = reached + gapMm + 1;
      reached = fromMm + lengthMm;
      return { fromMm, toMm: reached };
    });
    return { footageMm: reached + aboveMm, cuts: removed, minMm: maxMm - rangeMm, maxMm, doubtMm, influenceMm };
  });

const range = (from: number, to: number): number[] => Array.from({ length: Math.max(0, to - from) }, (_, index) => from + index);

/**
 * The line laid out millimetre by millimetre, downstream from the weld point and upstream over the strip; the station is put
 * at every place where it may be, and what lies within the influence of it is taken.
 */
function walked({ footageMm, cuts, minMm, maxMm, doubtMm, influenceMm }: Stop): { certain: number[]; possible: number[] } {
  const made = range(0, footageMm).filter((mm) => !cuts.some(({ fromMm, toMm }) => fromMm <= mm && mm < toMm)).reverse();
  const standsAt = (pathMm: number): number | undefined => (pathMm <= 0 ? footageMm - pathMm : made[pathMm - 1]);
  const places = range(minMm - doubtMm, maxMm + doubtMm + 1);
  const affected = places.map((pathMm) => new Set(range(pathMm - influenceMm, pathMm + influenceMm + 1).map(standsAt)));
  const all = [...new Set(affected.flatMap((one) => [...one]))].filter((mm) => mm !== undefined).sort((a, b) => a - b);
  return { possible: all, certain: all.filter((mm) => affected.every((one) => one.has(mm))) };
}

/** The millimetres of an interval that were still in the pipe. */
const standing = (stop: Stop, part: AffectedPipe['certain']): number[] =>
  part === null ? [] : range(part.fromMm, part.toMm).filter((mm) => !stop.cuts.some(({ fromMm, toMm }) => fromMm <= mm && mm < toMm));

function computed(stop: Stop): AffectedPipe | NoPipe {
  const { footageMm, cuts, minMm, maxMm, doubtMm, influenceMm } = stop;
  const net = netLengthMap(cuts.map(({ fromMm, toMm }) => aCutOut(fromMm, toMm, 1)));
  return affectedPipe({ footageMm, uMm: doubtMm / 2 }, { minMm, maxMm, uMm: 0 }, { net, scaleRelativeU: 0, influenceMm });
}

describe('the pipe that a stop affects', () => {
  test('is what a walk along the line finds, certainly and possibly, over any cut-outs', () => {
    let [certain, reached] = [0, 0];
    fc.assert(
      fc.property(stopArbitrary, (stop) => {
        const expected = walked(stop);
        const found = computed(stop);
        if (typeof found === 'string') {
          expect([found, expected]).toEqual(['not-reached', { certain: [], possible: [] }]);
          return;
        }
        expect({ certain: standing(stop, found.certain), possible: standing(stop, found.possible) }).toEqual(expected);
        reached += 1;
        certain += found.certain === null ? 0 : 1;
      }),
      { ...seedFromEnvironment(), numRuns: 2_000 },
    );
    expect(reached).toBeGreaterThan(500);
    expect(certain).toBeGreaterThan(100);
    expect(certain).toBeLessThan(reached);
  });

  test('holds the nearest estimate, and what is certain is possible, for any doubt', () => {
    const unit = fc.double({ min: 0, max: 40, noNaN: true });
    fc.assert(
      fc.property(stopArbitrary, unit, unit, fc.double({ min: 0, max: 0.01, noNaN: true }), (stop, uMm, pathUMm, scaleRelativeU) => {
        const { footageMm, minMm, maxMm, influenceMm } = stop;
        const found = affectedPipe({ footageMm, uMm }, { minMm, maxMm, uMm: pathUMm }, { net: netLengthMap([]), scaleRelativeU, influenceMm });
        if (typeof found === 'string') {
          expect(footageMm).toBeLessThan(minMm);
          return;
        }
        const { nearestMm, certain, possible } = found;
        if (nearestMm !== null) expect(possible.fromMm <= nearestMm && nearestMm < possible.toMm).toBe(true);
        if (certain !== null) expect(possible.fromMm <= certain.fromMm && certain.fromMm < certain.toMm && certain.toMm <= possible.toMm).toBe(true);
      }),
      seedFromEnvironment(),
    );
  });
});
