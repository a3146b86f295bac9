import { expect, test } from '@jest/globals';
import fc from 'fast-check';
import { interval, type Interval } from '#libs/intervals';
import { lengthsOf, subgroupsOf, windowsOf, type Boundary, type Exclusion } from '#libs/subgroups';
import { seedFromEnvironment } from '../setup/seed.js';
import { plainFates, plainLengths, plainWindows } from './subgroups.reference.js';

const RUNS = 1_000;
const PIPE_MM = 240;

const boundaries: fc.Arbitrary<Boundary[]> = fc
  .array(fc.record({ atMm: fc.integer({ min: 1, max: PIPE_MM - 1 }), kind: fc.constantFrom('splice', 'stop') }), { maxLength: 6 })
  .map((drawn) => [...new Map(drawn.map((one) => [one.atMm, one])).values()].map(({ atMm, kind }, index) => ({ atMm, label: `${kind} ${index}` })));
const exclusions: fc.Arbitrary<Exclusion[]> = fc
  .array(fc.record({ fromMm: fc.nat({ max: PIPE_MM - 1 }), lengthMm: fc.integer({ min: 1, max: 25 }) }), { maxLength: 4 })
  .map((drawn) => drawn.map(({ fromMm, lengthMm }, index) => ({ fromMm, toMm: fromMm + lengthMm, because: `left out ${index}` })));
const places: fc.Arbitrary<Interval[]> = fc
  .array(fc.record({ fromMm: fc.nat({ max: PIPE_MM - 1 }), lengthMm: fc.constantFrom(1, 1, 1, 2, 5, 15) }), { maxLength: 60, size: 'max' })
  .map((drawn) => drawn.map(({ fromMm, lengthMm }) => interval(fromMm, fromMm + lengthMm)).sort((one, other) => one.fromMm - other.fromMm));
const plan = fc.record({ size: fc.integer({ min: 1, max: 5 }), withinMm: fc.constantFrom(0, 3, 8, 20, 60), everyMm: fc.constantFrom(0, 1, 10, 30, 100) });
const asked = fc.tuple(fc.nat({ max: PIPE_MM - 1 }), fc.integer({ min: 1, max: PIPE_MM })).map(([fromMm, lengthMm]) => interval(fromMm, Math.min(PIPE_MM, fromMm + lengthMm)));

test('subgroups cross no splice or stop, have their size and spacing, and no reading counts twice or vanishes without its reason', () => {
  const seen = { subgroups: 0, anew: 0, between: 0, tooFew: 0, over: 0, excluded: 0 };
  fc.assert(
    fc.property(places, boundaries, exclusions, plan, (readings, between, excluded, { size, withinMm, everyMm }) => {
      const { subgroups, leftOut } = subgroupsOf(readings, between, excluded, { size, withinMm, everyMm });
      const fates: (number | string)[] = Array.from({ length: readings.length }, () => 'vanished');
      const told = [...subgroups.flatMap((one) => one.readings), ...leftOut.map(({ reading }) => reading)];
      expect(told.toSorted((a, b) => a - b)).toEqual(readings.map((_, index) => index));
      for (const one of subgroups) for (const reading of one.readings) fates[reading] = one.readings[0] as number;
      for (const { reading, because } of leftOut) fates[reading] = because;
      expect(fates).toEqual(plainFates(readings, { boundaries: between, exclusions: excluded }, { size, withinMm, everyMm }));
      subgroups.forEach(({ readings: own, place, beginsAnew }, index) => {
        const before = subgroups[index - 1]?.place;
        const isBroken = before !== undefined && between.some(({ atMm }) => atMm > before.fromMm && atMm <= place.fromMm);
        expect([own.length, beginsAnew, between.some(({ atMm }) => atMm > place.fromMm && atMm < place.toMm)]).toEqual([size, isBroken, false]);
        if (before !== undefined && !isBroken) expect(place.fromMm - before.fromMm).toBeGreaterThanOrEqual(everyMm);
        seen.subgroups += 1;
        seen.anew += Number(beginsAnew);
      });
      for (const [name, word] of [['between', 'between'], ['tooFew', 'too few'], ['over', 'over'], ['excluded', 'left out']] as const) {
        seen[name] += leftOut.filter(({ because }) => because.startsWith(word)).length;
      }
    }),
    { ...seedFromEnvironment(), numRuns: RUNS },
  );
  expect(Object.entries(seen).filter(([, times]) => times < 300)).toEqual([]);
});

test('windows are those of a walk from the beginning of the pipe, whatever part of it is asked about', () => {
  let found = 0;
  fc.assert(
    fc.property(asked, boundaries, exclusions, plan, fc.constantFrom(1, 4, 10), (part, between, excluded, drawn, windowMm) => {
      const { subgroups, leftOut } = windowsOf(part, between, excluded, drawn, windowMm);
      const pipe = { boundaries: between, exclusions: excluded };
      const within = plainWindows(PIPE_MM, pipe, drawn, windowMm).filter((begins) => (begins[0] ?? 0) >= part.fromMm && (begins.at(-1) ?? 0) + windowMm <= part.toMm);
      expect(subgroups.map(({ windows }) => windows.map(({ fromMm }) => fromMm))).toEqual(within);
      subgroups.forEach(({ windows, beginsAnew }, index) => {
        const [before, first] = [subgroups[index - 1]?.windows[0]?.fromMm, windows[0]?.fromMm ?? 0];
        expect(beginsAnew).toBe(before !== undefined && between.some(({ atMm }) => atMm > before && atMm <= first));
        expect(windows.every(({ fromMm, toMm }) => toMm - fromMm === windowMm)).toBe(true);
      });
      expect(leftOut.every(({ place, because }) => place.fromMm >= part.fromMm && (because.startsWith('left out') || because.startsWith('too little pipe before ')))).toBe(true);
      found += subgroups.length;
    }),
    { ...seedFromEnvironment(), numRuns: RUNS },
  );
  expect(found).toBeGreaterThan(RUNS);
});

test('lengths to count over are those of a walk, each as long as what it may count', () => {
  let whole = 0;
  fc.assert(
    fc.property(asked, boundaries, exclusions, fc.constantFrom(7, 40, 100), (part, between, excluded, windowMm) => {
      const { lengths, leftOut } = lengthsOf(part, between, excluded, windowMm);
      const walked = plainLengths(PIPE_MM, { boundaries: between, exclusions: excluded }, windowMm);
      const counted = new Map<number, number[]>();
      for (let mm = part.fromMm; mm < part.toMm; mm += 1) {
        const no = walked[mm] ?? null;
        if (no !== null) counted.set(no, [...(counted.get(no) ?? []), mm]);
      }
      expect(lengths.map(({ pipe }) => pipe.intervals.flatMap(({ fromMm, toMm }) => Array.from({ length: toMm - fromMm }, (_, index) => fromMm + index)))).toEqual([...counted.values()]);
      const covered = [...lengths, ...leftOut].reduce((sum, { place }) => sum + place.toMm - place.fromMm, 0);
      expect([covered, lengths.every(({ place }) => place.toMm - place.fromMm <= windowMm)]).toEqual([part.toMm - part.fromMm, true]);
      whole += lengths.length;
    }),
    { ...seedFromEnvironment(), numRuns: RUNS },
  );
  expect(whole).toBeGreaterThan(RUNS);
});
