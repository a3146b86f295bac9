import { describe, expect, test } from '@jest/globals';
import { interval, IntervalSet } from '#libs/intervals';
import { FOUR_HOURLY, proofOf, unmetOccasions, type InspectionRun, type ReferenceCheck } from '#libs/reference-checks';
import { titled, tradeCases } from './trade-cases.js';

const CASES = ['check-log-a', 'iso10893-check-interval'];
const cases = tradeCases('05-seam-inspection.json').filter(({ id }) => CASES.includes(id));
const MINUTE_US = 60_000_000;

const minuteOf = (clock: string): number => Number(clock.slice(0, 2)) * 60 + Number(clock.slice(3));

interface CheckLog {
  readonly checks: readonly [clock: string, outcome: 'pass' | 'fail', occasion: string][];
  readonly product_m: Readonly<Record<string, number>>;
}

/** A log of checks as one run that went evenly from check to check, and what was expected of it, by name. */
function readLog(inputs: CheckLog): { readonly run: InspectionRun; readonly checks: readonly ReferenceCheck[]; readonly madeMm: number } {
  const places = Object.entries(inputs.product_m).map(([clock, metres]) => ({ atUs: minuteOf(clock) * MINUTE_US, mm: metres * 1_000 })).sort((a, b) => a.atUs - b.atUs);
  const pieces = places.slice(1).map(({ atUs, mm }, index) => ({ fromUs: places[index]!.atUs, toUs: atUs, fromMm: places[index]!.mm, toMm: mm }));
  const madeMm = places.at(-1)!.mm;
  return {
    run: { id: 'run', ended: true, pieces, valid: IntervalSet.of(interval(0, madeMm)) }, madeMm,
    checks: inputs.checks.map(([clock, outcome, occasion]) => ({
      id: clock, atUs: minuteOf(clock) * MINUTE_US, footageMm: inputs.product_m[clock]! * 1_000, outcome: outcome === 'pass' ? 'passed' : 'failed',
      reason: occasion === 'start' || occasion === 'end' ? occasion : 'interval',
    })),
  };
}

const expectedOf = (given: (typeof cases)[number]): Record<string, unknown> => Object.fromEntries(given.expected.map(({ name, value }) => [name, value]));

describe('reference checks of the seam inspection', () => {
  test('both cases are there', () => {
    expect(cases.map(({ id }) => id).sort()).toEqual([...CASES].sort());
  });

  test.each(titled(cases.filter(({ id }) => id === 'check-log-a')))('%s', (_title, given) => {
    const expected = expectedOf(given);
    const { run, checks, madeMm } = readLog(given.inputs as unknown as CheckLog);
    expect(unmetOccasions([run], checks, [], FOUR_HOURLY, checks.at(-1)!.atUs).length > 0).toBe(expected['interval_breach']);
    const { suspect, confirmed } = proofOf([run], checks, 'best', IntervalSet.of(interval(0, madeMm)));
    const [fromMm, toMm] = [Number(expected['retest_from_m']) * 1_000, Number(expected['retest_to_m']) * 1_000];
    expect(suspect.intervals).toEqual([{ fromMm, toMm }]);
    expect(confirmed.intervals).toEqual([{ fromMm: 0, toMm: fromMm }, { fromMm: toMm, toMm: madeMm }]);
  });

  test.each(titled(cases.filter(({ id }) => id === 'iso10893-check-interval')))('%s', (_title, given) => {
    expect(FOUR_HOURLY.everyUs / (60 * MINUTE_US)).toBe(expectedOf(given)['interval_max_h']);
  });
});
