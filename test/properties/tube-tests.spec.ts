import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import {
  flareAgainstFold, flatteningReached, plateDistance, representedIntervals, unitStateOf,
  type Sample, type SamplingRule, type TestRepresentation, type TestResult,
} from '#libs/tube-tests';
import { seedFromEnvironment } from '../setup/seed.js';
import { hundredths, layouts, share, tubes, units, type Drawn } from './tube-tests.arbitraries.js';
import { plainState, standFor, type PlainRules } from './tube-tests.reference.js';

const PARAMETERS = { ...seedFromEnvironment(), numRuns: 300 };

function rulesFor({ coilEnds, stopSides, everyMm }: PlainRules): SamplingRule[] {
  return [
    ...(coilEnds ? [{ rule: 'coil-ends' } as const] : []), ...(stopSides ? [{ rule: 'stop-sides' } as const] : []),
    ...(everyMm === null ? [] : [{ rule: 'every-length', everyMm } as const]),
  ];
}

const answerFor = ({ layout, rules }: Drawn, samples: readonly Sample[]): TestRepresentation =>
  representedIntervals(layout, [{ test: 'flattening', rules: rulesFor(rules) }], samples).tests[0]!;

/** Every `stepMm` of the pipe from `startMm` past its begin: who stands for it, and whether it is missing. */
function expectSame(drawn: Drawn, stepMm: number, startMm: number): void {
  const { layout, rules, samples, plain } = drawn;
  const found = answerFor(drawn, samples);
  const endMm = layout.coils.at(-1)!.pipe.toMm;
  for (let xMm = layout.coils[0]!.pipe.fromMm - 2 + startMm; xMm < endMm + 2; xMm += stepMm) {
    const expected = standFor(xMm, layout, rules, plain);
    const standing = found.bySample.filter(({ represents }) => represents.contains(xMm)).map(({ sample }) => sample).join();
    const answered = `${xMm}: ${standing}${found.missing.contains(xMm) ? 'missing' : ''}`;
    const asked = `${xMm}: ${[...(expected ?? [])].join()}${expected?.size === 0 ? 'missing' : ''}`;
    // An expect for each of so many millimetres would take most of the time.
    if (answered !== asked) expect(answered).toBe(asked);
  }
}

describe('represented metres', () => {
  test('are those of a walk by the decimetre', () => {
    fc.assert(fc.property(layouts(12_000), fc.nat({ max: 99 }), (drawn, startMm) => { expectSame(drawn, 100, startMm); }), PARAMETERS);
  });

  test('are those of a walk by the millimetre on short pipe', () => {
    fc.assert(fc.property(layouts(10), (drawn) => { expectSame(drawn, 1, 0); }), { ...PARAMETERS, numRuns: 1000 });
  });

  test('and the missing ones make up the pipe, none counted twice; a sample only under a rule', () => {
    fc.assert(fc.property(layouts(12_000), (drawn) => {
      const { represented, missing, bySample } = answerFor(drawn, drawn.samples);
      const pipeMm = drawn.layout.coils.reduce((sum, { pipe }) => sum + pipe.toMm - pipe.fromMm, 0);
      expect(represented.totalLengthMm + missing.totalLengthMm).toBe(pipeMm);
      expect(represented.overlaps(missing)).toBe(false);
      for (const { represents, rules } of bySample) expect(rules.length > 0).toBe(!represents.isEmpty);
    }), PARAMETERS);
  });

  test('do not depend on the order of the samples, and grow with every further one', () => {
    const shuffled = layouts(12_000).chain((drawn) => fc.tuple(
      fc.constant(drawn), fc.shuffledSubarray([...drawn.samples], { minLength: drawn.samples.length }), fc.subarray([...drawn.samples]),
    ));
    fc.assert(fc.property(shuffled, ([drawn, otherOrder, fewer]) => {
      const of = (samples: readonly Sample[]): [string, string][] =>
        answerFor(drawn, samples).bySample.map(({ sample, represents }): [string, string] => [sample, represents.toMultirange()]).sort();
      expect(of(otherOrder)).toEqual(of(drawn.samples));
      expect(answerFor(drawn, drawn.samples).represented.covers(answerFor(drawn, fewer).represented)).toBe(true);
    }), PARAMETERS);
  });

  test('ends named as not sampled are those where no sample lies', () => {
    fc.assert(fc.property(layouts(40), (drawn) => {
      const { layout: { coils, stops }, rules, plain } = drawn;
      const stopsMm = new Set(stops.map(({ atMm }) => atMm));
      const bare: string[] = [];
      for (const { pipe: { fromMm, toMm } } of coils) {
        for (let atMm = fromMm; atMm <= toMm; atMm += 1) {
          for (const side of ['before', 'after'] as const) {
            if (atMm === (side === 'after' ? toMm : fromMm) || plain.some((one) => one.atMm === atMm && one.side === side)) continue;
            if (rules.coilEnds && (atMm === fromMm || atMm === toMm)) bare.push(`${atMm} ${side} coil-ends`);
            if (rules.stopSides && stopsMm.has(atMm)) bare.push(`${atMm} ${side} stop-sides`);
          }
        }
      }
      const found = answerFor(drawn, drawn.samples).unsampledEnds.map(({ atMm, pipeLies, rule }) => `${atMm} ${pipeLies} ${rule}`);
      expect(found.sort()).toEqual(bare.sort());
    }), PARAMETERS);
  });
});

const demands = fc.constantFrom(1, 2, 2, 3, null);
const stateOf = (results: readonly TestResult[], passingRetestsPerFailure: number | null): string =>
  unitStateOf(results, { passingRetestsPerFailure, source: 'Specification' }).state;

describe('the state of a test unit', () => {
  test('is that of a walk from each failure', () => {
    const seen = new Set<string>();
    fc.assert(fc.property(units, demands, (results, demanded) => {
      const state = stateOf(results, demanded);
      expect(state).toBe(plainState(results, demanded));
      seen.add(state);
    }), { ...PARAMETERS, numRuns: 2000 });
    expect([...seen].sort()).toEqual(['failed', 'failed, retests passed', 'open', 'passed']);
  });

  test('does not depend on the order of the results, nor does anything else of the answer', () => {
    const shuffled = units.chain((results) => fc.tuple(fc.constant(results), fc.shuffledSubarray(results, { minLength: results.length })));
    fc.assert(fc.property(shuffled, ([results, otherOrder]) => {
      expect(unitStateOf(otherOrder)).toEqual(unitStateOf(results));
    }), PARAMETERS);
  });

  test('a further pass never makes a unit that failed once pass, nor mends a failed one; a further failure never helps', () => {
    const ranks = ['passed', 'failed, retests passed', 'open', 'failed'];
    fc.assert(fc.property(units, demands, fc.option(fc.nat(), { nil: null }), (results, demanded, pick) => {
      const follows = pick === null ? null : results[pick % results.length]!.id;
      const before = stateOf(results, demanded);
      const withOne = (outcome: 'pass' | 'fail'): string => stateOf([...results, { id: 'further', atUs: 1000, follows, outcome }], demanded);
      if (results.some(({ outcome }) => outcome === 'fail')) expect(withOne('pass')).not.toBe('passed');
      if (before === 'failed') expect(withOne('pass')).toBe('failed');
      expect(['open', 'failed']).toContain(withOne('fail'));
      expect(ranks.indexOf(withOne('fail'))).toBeGreaterThanOrEqual(ranks.indexOf(before));
    }), PARAMETERS);
  });

  test('a further void result changes nothing but that it is shown', () => {
    fc.assert(fc.property(units, demands, fc.nat(), (results, demanded, pick) => {
      const further: TestResult = { id: 'further', atUs: 1000, follows: results[pick % results.length]!.id, outcome: 'void', reason: 'Slipped' };
      expect(stateOf([...results, further], demanded)).toBe(stateOf(results, demanded));
      expect(unitStateOf([...results, further]).voided).toContainEqual({ result: 'further', reason: 'Slipped' });
    }), PARAMETERS);
  });
});

describe('flattening and flaring', () => {
  test('the distance for a constant strains the outer fibre by that constant, by lengths of arc', () => {
    fc.assert(fc.property(tubes, fc.integer({ min: 1, max: 60 }), ([diameter, wall], percent) => {
      const tube = { outsideDiameterMm: hundredths(diameter), wallThicknessMm: hundredths(wall) };
      const [d, t, h] = [diameter / 100, wall / 100, plateDistance(tube, hundredths(percent)).heightMm];
      // Per length of the middle of the wall: radii of the outer fibre over those of the middle, after and before.
      const strain = (h / 2 / (h / 2 - t / 2)) / (d / 2 / (d / 2 - t / 2)) - 1;
      expect(Math.abs(strain - percent / 100)).toBeLessThan(1e-9);
    }), PARAMETERS);
  });

  test('what a ring was strained by rises as the plates come together', () => {
    fc.assert(fc.property(tubes, share, share, ([diameter, wall], one, other) => {
      const tube = { outsideDiameterMm: hundredths(diameter), wallThicknessMm: hundredths(wall) };
      const strainAt = (share: number): number =>
        flatteningReached(tube, hundredths(wall + 1 + Math.round(share * (diameter - wall - 1)))).outerFibreStrain;
      expect(strainAt(Math.min(one, other))).toBeGreaterThanOrEqual(strainAt(Math.max(one, other)));
    }), PARAMETERS);
  });

  test('a flare reaches the fold when D_flared is at least κ D in whole numbers, and it did not crack', () => {
    const [diameters, kappas, besides] = [fc.integer({ min: 100, max: 60_000 }), fc.integer({ min: 100, max: 140 }), fc.integer({ min: -3, max: 3 })];
    fc.assert(fc.property(diameters, kappas, besides, fc.boolean(), (diameter, kappa, beside, isCracked) => {
      const flared = Math.max(diameter, Math.round((diameter * kappa) / 100) + beside);
      const found = flareAgainstFold({ outsideDiameterMm: hundredths(diameter), flaredDiameterMm: hundredths(flared) }, isCracked, hundredths(kappa));
      expect(found.reachesFold).toBe(!isCracked && 100 * flared >= kappa * diameter);
    }), PARAMETERS);
  });
});
