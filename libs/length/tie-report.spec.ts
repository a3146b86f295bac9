import { describe, expect, test } from '@jest/globals';
import { aCutOut, aHangOff, aString, aTie } from '../../test/fixtures/string-lengths.js';
import { LengthModel } from './length-model.js';
import type { ShoeTie } from './string-lengths.js';
import { tieReport } from './tie-report.js';

/** Ties at 40, 60 and 80 m of footage of a string of ratio 1; shoe 10, 20 and 30 m below the hang-off. */
const ties = [40_000, 60_000, 80_000].map((mm) => aTie(mm, mm, 2_500 + (mm - 20_000) / 2, 20));

function report(shoeTies: ShoeTie[], overrides = {}) {
  const model = new LengthModel(aString({ shoeTies, hangOff: aHangOff({ uFootageMm: 5 }), scaleRelativeU: 0.0005, ...overrides }));
  return tieReport(model.outer, model.lengths);
}

describe('the tie report', () => {
  test('finds nothing in ties that agree', () => {
    for (const line of report(ties)) {
      expect(line).toMatchObject({ isUsed: true, isSuspect: false, localLambda: 1, reconciliation: { mm: 0 } });
      expect(line.againstLine!.mm).toBeCloseTo(0, 6);
    }
    expect(report(ties).map(({ againstNeighbours }) => againstNeighbours?.mm)).toEqual([0, 0, undefined]);
  });

  test('shows a cut-out that was not recorded as a jump at the ties after it', () => {
    const afterCut = ties.map((tie, index) => (index === 0 ? tie : { ...tie, weldFootageMm: tie.weldFootageMm + 600, atUs: tie.atUs + 600 }));
    const lines = report(afterCut);
    expect(lines.map(({ reconciliation }) => reconciliation.mm)).toEqual([0, 600, 600]);
    expect(lines.map(({ reconciliation }) => reconciliation.isExceeded)).toEqual([false, true, true]);
    const recorded = report(afterCut, { cutOuts: [aCutOut(45_000, 45_600, 50_000)] });
    expect(recorded.map(({ reconciliation }) => reconciliation.mm)).toEqual([0, 0, 0]);
  });

  test('compares each tie with the line between its neighbours, by hand', () => {
    // The middle tie read 500 too deep: n is 500 less, depth 500 more, hence 1 000 above the line of ratio 1.
    const [first, middle, last] = ties;
    const lines = report([first!, { ...middle!, shoeMdMm: middle!.shoeMdMm + 500 }, last!]);
    expect(lines[1]!.againstNeighbours!.mm).toBeCloseTo(1_000, 6);
    expect(lines[1]!.isSuspect).toBe(true);
    expect(lines[1]!.reconciliation.mm).toBe(-1_000);
    expect(lines[1]!.localLambda).toBeCloseTo(10_500 / 9_500, 12);
  });

  test('a tie that does not rise is suspect and not used, and is compared with those in use', () => {
    const [first, middle, last] = ties;
    const lines = report([first!, { ...middle!, shoeMdMm: 90_000 }, last!]);
    expect(lines.map(({ isUsed }) => isUsed)).toEqual([true, false, true]);
    expect(lines[1]).toMatchObject({ isSuspect: true, againstNeighbours: null });
  });

  test('the reconciliation’s uncertainty, by hand', () => {
    // u_nh 5, u_x 0, 2 u_shoe 40, D u_λ 100, s (n(F) − n_h) 19.
    const [line] = report(ties.slice(0, 1), { defaultRatio: { record: null, lambda: 1, u: 0.01 } });
    expect(line!.reconciliation.uMm).toBeCloseTo(Math.hypot(5, 40, 100, 19), 9);
    expect(line!.againstLine).toBeNull();
  });

  test('and with a ratio of 0.5: D = 10 000 counts D u_λ / λ², a shoe error 1 + 1/λ-fold', () => {
    const [line] = report([aTie(50_000, 50_000, 12_500, 20)], { defaultRatio: { record: null, lambda: 0.5, u: 0.01 } });
    expect(line!.reconciliation).toEqual({ mm: 0, uMm: Math.hypot(5, 60, 400, 24), isExceeded: false });
  });

  test('a tie recorded twice is used once, and takes its local ratio from the point before both', () => {
    const [first] = ties;
    const lines = report([first!, { ...first! }]);
    expect(lines.map(({ isUsed, localLambda }) => [isUsed, localLambda])).toEqual([
      [true, 1],
      [false, 1],
    ]);
  });
});
