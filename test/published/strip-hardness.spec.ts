import { describe, expect, test } from '@jest/globals';
import { closedFormHv, E140_CELLS, hbwFromHrc, hrcFromHv, hvFromHrc } from '#libs/strip';
import { checkOf, expectedNames, expectedNumber, expectedOf, expectPrinted, inputNumbers, titled, tradeCases, type TradeCase } from './trade-cases.js';

/** The conversions between hardness scales; the other cases of this file belong to welding. */
const cases = tradeCases('04-welding.json').filter(({ id }) => id.startsWith('hrc-'));

const checks: Readonly<Record<string, (given: TradeCase) => void>> = {
  'hrc-hv-hb-e140': (given) => {
    const scale = inputNumbers(given, 'HRC');
    for (const hrc of scale) {
      const cell = { approximate: true, basis: 'printed cell', withinHv: null };
      expect(hvFromHrc(hrc)).toEqual({ ...cell, scale: 'HV', value: expectedNumber(given, `HV_${hrc}`) });
      expect(hbwFromHrc(hrc)).toEqual({ ...cell, scale: 'HBW', value: expectedNumber(given, `HBW_${hrc}`) });
      expect(hrcFromHv(expectedNumber(given, `HV_${hrc}`))).toEqual({ ...cell, scale: 'HRC', value: hrc });
    }
    expect(E140_CELLS.map(({ hrc }) => hrc)).toEqual(scale);
    expect(expectedNames(given)).toHaveLength(2 * scale.length);
    // The accuracy that the closed form states, against the same cells.
    for (const hrc of scale) {
      const formula = closedFormHv(hrc)!;
      expect(Math.abs(formula.value - expectedNumber(given, `HV_${hrc}`))).toBeLessThanOrEqual(formula.withinHv!);
    }
  },

  'hrc-hv-formula': (given) => {
    for (const hrc of inputNumbers(given, 'HRC')) {
      const found = closedFormHv(hrc)!;
      expectPrinted(found.value, expectedOf(given, `HV_${hrc}`));
      expect(hrcFromHv(found.value)?.value).toBeCloseTo(hrc, 10);
    }
    expect(expectedNames(given)).toHaveLength(inputNumbers(given, 'HRC').length);
  },
};

describe('published hardness conversions', () => {
  test.each(titled(cases))('%s', (_title, given) => {
    checkOf(checks, given)(given);
  });

  test('every check belongs to a case', () => {
    expect(cases.map(({ id }) => id).sort()).toEqual(Object.keys(checks).sort());
  });
});
