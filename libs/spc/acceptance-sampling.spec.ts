import { describe, expect, test } from '@jest/globals';
import {
  acceptanceProbability, codeLetter, lotAcceptanceProbability, outgoingQualityLimit, qualityAccepted, rectifyingInspection, samplingRisks, sequentialPlan, standardPlan,
} from '#libs/spc';

const plan = { n: 80, acceptance: 2 };

describe('operating characteristic', () => {
  test('without acceptance it is the chance that all conform', () => {
    expect(acceptanceProbability({ n: 20, acceptance: 0 }, 0.03)).toBeCloseTo(0.97 ** 20, 14);
    expect(acceptanceProbability({ n: 20, acceptance: 0 }, 0.03, 'poisson')).toBeCloseTo(Math.exp(-0.6), 14);
  });

  test('certain with nothing nonconforming, none with all, and falling between', () => {
    expect([acceptanceProbability(plan, 0), acceptanceProbability(plan, 1), acceptanceProbability(plan, 0, 'poisson')]).toEqual([1, 0, 1]);
    const found = Array.from({ length: 50 }, (_, index) => acceptanceProbability(plan, (index + 1) / 500));
    found.slice(1).forEach((one, index) => { expect(one).toBeLessThan(found[index]!); });
  });

  test('of one lot: by all samples that can be drawn, and as binomial where the lot is large', () => {
    // Of 5 items 2 do not conform; of the 10 samples of 3, 1 has none of them, 6 have one and 3 have both.
    expect([0, 1, 2].map((acceptance) => lotAcceptanceProbability({ n: 3, acceptance }, 5, 2))).toEqual([0.1, 0.7, 1]);
    expect(lotAcceptanceProbability({ n: 3, acceptance: 1 }, 5, 5)).toBe(0);
    expect(lotAcceptanceProbability(plan, 1000, 0)).toBe(1);
    const [small, large] = [500, 1e9].map((lotSize) => lotAcceptanceProbability(plan, lotSize, 0.04 * lotSize));
    expect(large).toBeCloseTo(acceptanceProbability(plan, 0.04), 7);
    expect(small).not.toBeCloseTo(acceptanceProbability(plan, 0.04), 2);
    expect(lotAcceptanceProbability({ n: 800, acceptance: 400 }, 100_000, 50_000)).toBeGreaterThan(0.5);
    expect(() => lotAcceptanceProbability(plan, 79, 1)).toThrow(new RangeError('a lot is not smaller than its sample of 80: 79'));
    expect(() => lotAcceptanceProbability(plan, 100, 101)).toThrow(new RangeError('not a number of nonconforming items of 100: 101'));
  });

  test('the quality accepted with a probability is accepted with it', () => {
    for (const basis of ['binomial', 'poisson'] as const) {
      for (const probability of [0.99, 0.95, 0.5, 0.1, 0.001]) {
        expect(acceptanceProbability(plan, qualityAccepted(plan, probability, basis), basis)).toBeCloseTo(probability, 10);
      }
    }
  });

  test('risks are what is lost at the good and let by at the bad share', () => {
    const { producer, consumer } = samplingRisks(plan, 0.01, 0.06);
    expect(producer).toBe(1 - acceptanceProbability(plan, 0.01));
    expect(consumer).toBe(acceptanceProbability(plan, 0.06));
  });

  test('the worst share that leaves is that of the closed form without acceptance', () => {
    // The greatest p (1 − p)^n lies at p = 1/(n + 1).
    expect(outgoingQualityLimit({ n: 9, acceptance: 0 })).toBeCloseTo(0.1 * 0.9 ** 9, 13);
    expect(outgoingQualityLimit({ n: 1, acceptance: 0 })).toBeCloseTo(0.25, 13);
  });

  test('a lot no larger than its sample is inspected whole, and nothing nonconforming leaves', () => {
    expect(rectifyingInspection(plan, 80, 0.05)).toEqual({ outgoingShare: 0, inspectedItems: 80 });
  });

  test('refuse what is no plan, share or risk', () => {
    expect(() => acceptanceProbability({ n: 0, acceptance: 0 }, 0.1)).toThrow(new RangeError('not the size of a sample: 0'));
    expect(() => acceptanceProbability({ n: 5, acceptance: 5 }, 0.1)).toThrow(new RangeError('not an acceptance number for 5 items: 5'));
    expect(() => acceptanceProbability(plan, 1.1)).toThrow(new RangeError('not a share of nonconforming items: 1.1'));
    expect(acceptanceProbability(plan, 1.1, 'poisson')).toBeLessThan(1e-30);
    expect(() => qualityAccepted(plan, 1)).toThrow(RangeError);
    expect(() => samplingRisks(plan, 0.1, 0.1)).toThrow(RangeError);
    expect(() => rectifyingInspection(plan, 79, 0.1)).toThrow(new RangeError('a lot is not smaller than its sample of 80: 79'));
    expect(() => sequentialPlan(0.1, 0.01, { producer: 0.05, consumer: 0.1 })).toThrow(RangeError);
    expect(() => sequentialPlan(0.01, 0.1, { producer: 0.5, consumer: 0.5 })).toThrow(RangeError);
  });
});

describe('standard plans', () => {
  test('a cell that was not seen in a source is not known', () => {
    expect(standardPlan(1000, 0.4)).toBeNull();
  });

  test('a small lot is inspected whole', () => {
    expect(standardPlan(2, 6.5)).toEqual({ letterByLot: 'A', letter: 'A', n: 2, acceptance: 0, rejection: 1, isWholeLot: true });
    expect(standardPlan(1000, 1)?.isWholeLot).toBe(false);
  });

  test('refuses what is no lot', () => {
    expect(() => codeLetter(1, 'II')).toThrow(new RangeError('a lot has at least 2 items: 1'));
    expect(() => codeLetter(2.5, 'II')).toThrow(RangeError);
  });
});
