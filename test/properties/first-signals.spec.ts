import { describe, expect, test } from '@jest/globals';
import {
  cusumPoints, cusumRunLength, ewmaPoints, ewmaRunLength, ISO_7870_2_RULES, NELSON_RULES, pointsBeyond, RUN_RULES, type RunRule, runSignals, shewhartSignalChance,
  WESTERN_ELECTRIC_RULES,
} from '#libs/spc';
import { StableDraws } from './false-alarms.reference.js';

const meanOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;

describe('of a stable process, charts that remember signal after as many points as their run length says', () => {
  const CHARTS = 400;
  type FirstSignal = (values: readonly number[]) => number | undefined;

  /** One chart goes on until it signals. */
  function lengthOf({ normal }: StableDraws, firstSignal: FirstSignal): number {
    const values: number[] = [];
    for (;;) {
      for (const end = Math.max(256, 2 * values.length); values.length < end;) values.push(normal());
      const found = firstSignal(values);
      if (found !== undefined) return found;
    }
  }

  function expectLength(length: number, seed: number, firstSignal: FirstSignal): void {
    const draws = new StableDraws(seed);
    const found = Array.from({ length: CHARTS }, () => lengthOf(draws, firstSignal));
    const mean = meanOf(found);
    const error = Math.sqrt(meanOf(found.map((one) => (one - mean) ** 2)) / CHARTS);
    expect(Math.abs(mean - length)).toBeLessThan(4 * error);
    // A length a quarter off would not pass.
    expect(4 * error).toBeLessThan(length / 4);
  }

  test('moving average', () => {
    const design = { target: 0, sigma: 1, lambda: 0.2, width: 2.7 };
    expectLength(ewmaRunLength(0.2, 2.7, 0), 301, (values) => pointsBeyond(ewmaPoints(values, design, { limits: 'final' }))[0]);
  });

  test.each([0, 2])('cumulative sum with the head start %i', (headStart) => {
    const design = { k: 0.5, h: 4, headStart };
    expectLength(cusumRunLength(design, 0), 302, (values) => cusumPoints(values, { ...design, target: 0 }).find(({ signals }) => signals.length > 0)?.point);
  });
});

describe('of a stable process, blocks of 150 points in which rules signal are as many as their chance says', () => {
  const [BLOCKS, SIZE] = [2000, 150];
  const all = Object.keys(RUN_RULES) as RunRule[];
  const points = new StableDraws(400).normals(BLOCKS * SIZE).map((value) => ({ value, centre: 0, standardError: 1 }));
  const signals = runSignals(points, all, Array.from({ length: BLOCKS }, (_, index) => index * SIZE + 1));

  test.each<readonly [string, readonly RunRule[]]>([
    ...all.map((rule) => [rule, [rule]] as const),
    ['all of Western Electric', WESTERN_ELECTRIC_RULES], ['all of Nelson', NELSON_RULES], ['all of ISO 7870-2', ISO_7870_2_RULES],
  ])('%s', (_name, rules) => {
    const blocks = new Set(signals.filter(({ rule }) => rules.includes(rule)).map(({ point }) => Math.floor((point - 1) / SIZE)));
    const chance = shewhartSignalChance(rules, SIZE, 0);
    const error = Math.sqrt((chance * (1 - chance)) / BLOCKS);
    expect(Math.abs(blocks.size / BLOCKS - chance)).toBeLessThan(4 * error);
    // A rule that never signals would not pass.
    expect(chance).toBeGreaterThan(4 * error);
  });
});
