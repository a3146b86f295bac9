import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { LineMoment, placeClock, RECENT_US, type ClockSetup, type PlaceClock, type Where } from '#libs/hold-clock';
import { IntervalSet } from '#libs/intervals';
import { LengthModel, type CutOut } from '#libs/length';
import { aCutOut, aHangOff, aString, recordRef } from '../fixtures/string-lengths.js';
import { seedFromEnvironment } from '../setup/seed.js';
import { footages, secondsUntil, speedsSeen, walkedMm, type Phase } from './hold-clock.reference.js';
import { walkToPlace, type WalkedString } from './length.reference.js';

const LINE_MM = 25_000;
const START_MM = 40_000;
const RECENT_S = RECENT_US / 1e6;
/** Tenths of a second are summed up by the thousand. */
const ROUNDED = 1e-6;
/** What the library takes its least and greatest speeds over, at least. */
const STEP_S = 5;

const setup = (minMm: number, maxMm = minMm, uMm = 0): ClockSetup => ({
  id: 'set-up',
  stations: [
    { name: 'splice', role: null, path: { minMm: -12_000, maxMm: -9_000, uMm } }, { name: 'gauge', role: null, path: { minMm: 6_000, maxMm: 6_000, uMm } },
    { name: 'probe', role: null, path: { minMm: 11_000, maxMm: 11_500, uMm } }, { name: 'hang-off', role: 'hang-off', path: { minMm, maxMm, uMm } },
  ],
});

/** What the line did, how often its counter was read, and what is asked of which place how long after the last reading. */
interface Run {
  readonly phases: readonly Phase[];
  readonly everyS: number;
  readonly ageS: number;
  readonly footageMm: number;
  readonly cuts: readonly { readonly fromMm: number; readonly toMm: number }[];
  /** Where between the least and the greatest speed it goes on, tenth of a second by tenth. */
  readonly shares: readonly number[];
}

/** Whole mm a second: 0.06 to 12 m/min, and stops and reversals among them. */
const speeds = fc.oneof({ weight: 8, arbitrary: fc.integer({ min: 1, max: 200 }) }, { weight: 1, arbitrary: fc.constant(0) }, { weight: 1, arbitrary: fc.integer({ min: -60, max: -1 }) });
const steady = fc.integer({ min: 30, max: 120 });
const runs = (speed: fc.Arbitrary<number>, since = fc.oneof(fc.constant(0), fc.integer({ min: 1, max: 300 }))): fc.Arbitrary<Run> => fc.record({
  phases: fc.array(fc.record({ seconds: fc.integer({ min: 1, max: 90 }), mmPerS: speed }), { minLength: 1, maxLength: 8 }),
  everyS: fc.integer({ min: 1, max: 60 }), ageS: since, footageMm: fc.integer({ min: 30_000, max: 60_000 }),
  cuts: fc.array(fc.tuple(fc.integer({ min: 35_000, max: 39_000 }), fc.integer({ min: 1, max: 900 })), { maxLength: 1 }).map((all) => all.map(([fromMm, length]) => ({ fromMm, toMm: fromMm + length }))),
  shares: fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 1, maxLength: 40 }),
});

interface Asked {
  readonly moment: LineMoment;
  readonly lastMm: number;
  readonly lastS: number;
  readonly readings: number;
}

/** The line read every so many seconds, and asked some seconds after its last reading. */
function asked({ phases, everyS, ageS, cuts }: Run, changes: { readonly setup?: ClockSetup; readonly scaleRelativeU?: number } = {}): Asked {
  const made = footages(START_MM, phases);
  const taken = made.flatMap((footageMm, second) => (second % everyS === 0 ? [{ record: recordRef('counter-reading', `r${second}`), atUs: second * 1e6, footageMm, readIn: null }] : []));
  const last = taken.at(-1)!;
  const cutOuts: CutOut[] = cuts.map(({ fromMm, toMm }) => aCutOut(fromMm, toMm, 0));
  const lengths = new LengthModel(aString({ hangOff: null, hangOffPath: [], weldFootage: taken, cutOuts, scaleRelativeU: changes.scaleRelativeU ?? 0 }));
  return { moment: new LineMoment(lengths, changes.setup ?? setup(LINE_MM), last.atUs + ageS * 1e6), lastMm: last.footageMm, lastS: last.atUs / 1e6, readings: taken.length };
}

const clockOf = (moment: LineMoment, footageMm: number, uMm = 0): PlaceClock => placeClock(moment, IntervalSet.of({ fromMm: footageMm, toMm: footageMm + 50 }), uMm);

const check = <T>(arbitrary: fc.Arbitrary<T>, holds: (value: T) => void, numRuns = 300): void => { fc.assert(fc.property(arbitrary, holds), { ...seedFromEnvironment(), numRuns }); };

describe('the stated range of minutes', () => {
  test('holds the true time to every station, while the line goes on within the speeds seen', () => {
    let compared = 0;
    let bounded = 0;
    check(runs(speeds), (run) => {
      const { moment, lastMm } = asked(run);
      const { pace } = moment;
      const clock = clockOf(moment, run.footageMm);
      if (pace === null || !['running-out', 'standing', 'moving-away'].includes(clock.state)) return;
      const [least, greatest] = [pace.leastMmPerUs * 1e6, pace.greatestMmPerUs * 1e6];
      const goesOn = run.shares.map((share) => least + share * (greatest - least));
      // A line that stops or goes back within the speeds seen may never get there.
      if (goesOn.some((one) => one < 0.5)) return;
      const walked = walkedMm(lastMm, run.footageMm, run.cuts);
      for (const { name, minutes } of clock.stations) {
        const pathMm = name === 'weld point' ? 0 : { splice: -10_500, gauge: 6_000, probe: 11_250, 'hang-off': LINE_MM }[name]!;
        const trueS = secondsUntil(pathMm - walked, goesOn) - run.ageS;
        if (trueS < 0) continue;
        compared += 1;
        expect(minutes!.least!).toBeLessThanOrEqual((trueS / 60) * (1 + ROUNDED));
        if (minutes!.greatest === null) continue;
        bounded += 1;
        expect(minutes!.greatest).toBeGreaterThanOrEqual((trueS / 60) * (1 - ROUNDED));
        expect(minutes!.central!).toBeGreaterThanOrEqual(minutes!.least! - 1e-9);
        expect(minutes!.central!).toBeLessThanOrEqual(minutes!.greatest + 1e-9);
      }
    }, 1000);
    expect(compared).toBeGreaterThan(500);
    expect(bounded).toBeGreaterThan(300);
  });

  test('is never optimistic by what is uncertain of the place, the path and the counter', () => {
    let compared = 0;
    const errors = fc.record({ path: fc.double({ min: -1, max: 1, noNaN: true }), place: fc.double({ min: -1, max: 1, noNaN: true }), inRange: fc.double({ min: 0, max: 1, noNaN: true }) });
    check(fc.tuple(runs(fc.integer({ min: 20, max: 200 })), errors), ([run, error]) => {
      const { moment, lastMm } = asked(run, { setup: setup(LINE_MM - 400, LINE_MM + 400, 10) });
      const clock = clockOf(moment, run.footageMm, 5);
      if (clock.state !== 'running-out') return;
      const { hangOff } = clock;
      // Each off by as much as its standard uncertainty: together never more than twice their root sum of squares.
      const truePathMm = LINE_MM - 400 + error.inRange * 800 + error.path * 10;
      const truePlace = walkedMm(lastMm, run.footageMm, run.cuts) + error.place * 5;
      const mmPerS = moment.pace!.greatestMmPerUs * 1e6;
      const trueS = (truePathMm - truePlace) / mmPerS - run.ageS;
      if (trueS < 0) return;
      compared += 1;
      expect(hangOff!.minutes!.least!).toBeLessThanOrEqual((trueS / 60) * (1 + ROUNDED));
      expect(hangOff!.minutes!.greatest!).toBeGreaterThanOrEqual(((truePathMm - truePlace) / (moment.pace!.leastMmPerUs * 1e6) - run.ageS) / 60 - 1e-9);
    });
    expect(compared).toBeGreaterThan(30);
  });

  test.each([0, -40])('has no end where the line ran at %d mm/s lately, and begins with its greatest speed all the same', (mmPerS) => {
    const { moment } = asked({ phases: [{ seconds: 60, mmPerS: 50 }, { seconds: 30, mmPerS }, { seconds: 60, mmPerS: 40 }], everyS: 5, ageS: 0, footageMm: 39_000, cuts: [], shares: [0] });
    const { state, hangOff } = clockOf(moment, 39_000);
    const walked = walkedMm(footages(START_MM, [{ seconds: 60, mmPerS: 50 }, { seconds: 30, mmPerS }, { seconds: 60, mmPerS: 40 }]).at(-1)!, 39_000, []);
    expect(state).toBe('running-out');
    expect(hangOff!.minutes).toEqual({ least: expect.closeTo((LINE_MM - walked) / 50 / 60, 9), central: expect.closeTo((LINE_MM - walked) / 40 / 60, 9), greatest: null });
  });
});

describe('the speeds', () => {
  test('are among those that the line ran at, and hold each that it ran at for two steps', () => {
    check(runs(speeds), (run) => {
      const { moment, lastS } = asked(run);
      const { pace } = moment;
      if (pace === null) return;
      const window = { fromS: Math.max(0, lastS - RECENT_S), toS: lastS };
      const all = speedsSeen(run.phases, window, 0);
      const tolerance = 1e-6;
      expect(pace.leastMmPerUs * 1e6).toBeGreaterThanOrEqual(Math.min(0, ...all) - tolerance);
      expect(pace.greatestMmPerUs * 1e6).toBeLessThanOrEqual(Math.max(0, ...all) + tolerance);
      for (const one of speedsSeen(run.phases, window, 2 * STEP_S + 3 * run.everyS)) {
        expect(pace.leastMmPerUs * 1e6).toBeLessThanOrEqual(one + tolerance);
        expect(pace.greatestMmPerUs * 1e6).toBeGreaterThanOrEqual(one - tolerance);
      }
    });
  });

  test('say the state: running out, standing, moving away; and nothing beyond ten minutes, or after an only reading', () => {
    check(fc.record({ first: steady, second: steady, mmPerS: speeds, ageS: fc.integer({ min: 1, max: 1200 }) }), ({ first, second, mmPerS, ageS }) => {
      const run: Run = { phases: [{ seconds: first, mmPerS: 60 }, { seconds: second, mmPerS }], everyS: 1, ageS, footageMm: 0, cuts: [], shares: [0] };
      const { moment, lastMm } = asked(run);
      const { state, hangOff, stations, because, where } = clockOf(moment, lastMm - 1_000);
      if (ageS > RECENT_S) {
        expect({ state, hangOff, stations, where }).toEqual({ state: 'stale', hangOff: null, stations: [], where: 'not-known' });
        expect(because).toMatch(/^the last counter reading was \d+ min old/);
      } else expect(state).toBe(mmPerS > 0 ? 'running-out' : mmPerS < 0 ? 'moving-away' : 'standing');
      const one = asked({ ...run, everyS: 100_000 });
      expect(clockOf(one.moment, START_MM - 1_000).state).toBe('stale');
    }, 100);
  });
});

describe('the metres', () => {
  test('are those that a walk along the pipe counts, at a reading; the stations come in order', () => {
    check(runs(speeds, fc.constant(0)), (run) => {
      const { moment, lastMm } = asked(run);
      const clock = clockOf(moment, run.footageMm);
      const walked = walkedMm(lastMm, run.footageMm, run.cuts);
      if (clock.hangOff === null || clock.state === 'passing' || clock.state === 'past-the-hang-off') return;
      expect(clock.hangOff.leftMm).toBeCloseTo(LINE_MM - walked, 6);
      const paths: [string, number, number][] = [['splice', -12_000, -9_000], ['weld point', 0, 0], ['gauge', 6_000, 6_000], ['probe', 11_000, 11_500], ['hang-off', LINE_MM, LINE_MM]];
      expect(clock.stations.map(({ name, leftMm }) => [name, Math.round(leftMm)]))
        .toEqual(paths.filter(([, , maxMm]) => maxMm > walked).map(([name, minMm]) => [name, Math.max(0, minMm - walked)]));
    });
  });

  test('and minutes grow with the footage, and shrink with the time since the last reading', () => {
    let compared = 0;
    check(fc.tuple(runs(speeds), fc.integer({ min: 1, max: 20_000 }), fc.integer({ min: 1, max: 200 })), ([run, furtherMm, laterS]) => {
      const { moment } = asked(run);
      const near = clockOf(moment, run.footageMm).hangOff;
      const far = clockOf(moment, run.footageMm + furtherMm).hangOff;
      const later = clockOf(asked({ ...run, ageS: run.ageS + laterS }).moment, run.footageMm).hangOff;
      for (const [less, more] of [[near, far], [later, near]] as const) {
        if (less === null || more === null) continue;
        compared += 1;
        expect(less.leftMm).toBeLessThanOrEqual(more.leftMm);
        for (const key of ['least', 'central', 'greatest'] as const) {
          const [one, other] = [less.minutes?.[key] ?? null, more.minutes?.[key] ?? null];
          if (one !== null && other !== null) expect(one).toBeLessThanOrEqual(other);
        }
      }
    });
    expect(compared).toBeGreaterThan(200);
  });
});

/** A string of some fifty millimetres, one of which is made each microsecond, with up to two cut-outs made on the line. */
const tinyStrings: fc.Arbitrary<WalkedString> = fc
  .record({ pathMm: fc.integer({ min: 4, max: 12 }), cuts: fc.array(fc.record({ gapMm: fc.integer({ min: 0, max: 12 }), lengthMm: fc.integer({ min: 1, max: 3 }) }), { maxLength: 2 }) })
  .map(({ pathMm, cuts }) => {
    let footageMm = 6;
    const cutOuts = cuts.map(({ gapMm, lengthMm }) => {
      const fromMm = footageMm + gapMm;
      footageMm = fromMm + lengthMm;
      return aCutOut(fromMm, footageMm, footageMm + 1);
    });
    return { cutOuts, hangOffFootageMm: 5, hangOffMdMm: 100, hangOffUs: 5 + pathMm, pathMm };
  });

test('where the parts of a place lie agrees with walking the pipe millimetre by millimetre', () => {
  let compared = 0;
  check(fc.tuple(tinyStrings, fc.integer({ min: 1, max: 50 }), fc.integer({ min: 1, max: 4 })), ([string, atUs, stripMm]) => {
    const { cutOuts, hangOffFootageMm, hangOffMdMm, hangOffUs, pathMm } = string;
    const path = { minMm: pathMm, maxMm: pathMm, uMm: 0 };
    const lengths = new LengthModel(aString({
      cutOuts, hangOff: aHangOff({ footageMm: hangOffFootageMm, mdMm: hangOffMdMm, atUs: hangOffUs }),
      hangOffPath: [{ record: recordRef('line-setup', 'set-up'), validFromUs: 0, pathMm, uPathMm: 0 }],
    }));
    const stations: ClockSetup['stations'] = [{ name: 'strip', role: null, path: { minMm: -stripMm, maxMm: -1, uMm: 0 } }, { name: 'hang-off', role: 'hang-off', path }];
    const moment = new LineMoment(lengths, { id: 'set-up', stations }, atUs);
    const parts = moment.partsOf(IntervalSet.of({ fromMm: 0, toMm: 60 }));
    expect([parts[0]!.fromMm, ...parts.map(({ toMm }) => toMm)]).toEqual([...parts.map(({ fromMm }) => fromMm), 60]);
    for (let mm = 0; mm < 60; mm += 1) {
      const walked = walkToPlace(string, mm, atUs, atUs);
      // The pipe is short of the hang-off: the walk has no answer.
      if (walked === null) continue;
      const expected: Where = walked.place === 'not-yet-made' ? (mm - atUs < stripMm ? 'strip' : 'not-made') : walked.place;
      expect([mm, parts.find(({ fromMm, toMm }) => fromMm <= mm && mm < toMm)?.where]).toEqual([mm, expected]);
      compared += 1;
    }
  }, 200);
  expect(compared).toBeGreaterThan(5_000);
});
