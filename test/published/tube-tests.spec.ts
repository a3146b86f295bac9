import { describe, expect, test } from '@jest/globals';
import {
  checkExpansion, checkPlateDistance, checkReverseBend, checkReverseFlattening, CRACK_LIMITS_5ST, DEFORMATION_CONSTANTS, flatteningReached,
  FLATTENING_FREQUENCY_5ST, flatteningSetUpChecks, judgeCracks5st, plateDistance, requiredExpansion, VENDOR_EXPANSION,
  type Crack, type Tube,
} from '#libs/tube-tests';
import {
  checkOf, expectedNames, expectedNumber, expectedOf, expectPrinted, titled, tradeCases, type Expected, type TradeCase,
} from './trade-cases.js';

const CASES = ['iso8492-limits', 'flattening-height', 'flaring-expansion-wc1-wc2', 'api5st-flattening', 'pinch-stop'];
const cases = tradeCases('05-seam-inspection.json').filter(({ id }) => CASES.includes(id));

/** Values of a case that say nothing of a test on a piece of tube: the microstructure, and hardness. */
const LEFT_OF_5ST = ['grain_size_min', 'hardness'];

/** The tube of 1000 mm with this d/D. */
const wallFor = (boreShare: number): Tube => ({ outsideDiameterMm: '1000', wallThicknessMm: String((1000 - 1000 * boreShare) / 2) });

interface CaseTube {
  readonly tube: Tube;
  readonly e: number | null;
  readonly name: string;
}

function tubesOf(given: TradeCase): CaseTube[] {
  return (given.inputs['cases'] as { D_mm: number; t_mm: number; e?: number }[]).map(({ D_mm: diameter, t_mm: wall, e }) => ({
    tube: { outsideDiameterMm: String(diameter), wallThicknessMm: String(wall) }, e: e ?? null, name: `${diameter}x${wall}`,
  }));
}

const checks: Readonly<Record<string, (given: TradeCase) => void>> = {
  'iso8492-limits': (given) => {
    const names = tubesOf(given).map(({ tube, name }) => {
      const found = flatteningSetUpChecks({ tube, pieceLengthMm: '50', plateWidthMm: '1000', on: { kind: 'piece' } });
      expect(found.every(({ outcome }) => outcome === 'met')).toBe(expectedOf(given, `applicable_${name}`).value);
      return `applicable_${name}`;
    });
    const platen = (plateWidthMm: string): string => flatteningSetUpChecks({
      tube: tubesOf(given)[0]!.tube, pieceLengthMm: '50', plateWidthMm, on: { kind: 'piece' },
    }).at(-1)!.outcome;
    const least = expectedNumber(given, 'platen_width_min_114.3');
    expect([platen(least.toFixed(2)), platen((least - 0.01).toFixed(2))]).toEqual(['met', 'not met']);
    expect(expectedNames(given)).toEqual([...names, 'platen_width_min_114.3']);
  },

  'flattening-height': (given) => {
    const constantOf = (steel: string): number => Number(DEFORMATION_CONSTANTS.find((one) => one.steel === steel)!.constant);
    expectPrinted(constantOf('ferritic alloy, seamless'), expectedOf(given, 'e_ferritic_alloy'));
    expectPrinted(constantOf('austenitic, seamless'), expectedOf(given, 'e_austenitic'));
    expectPrinted(constantOf('WC1, welded'), expectedOf(given, 'e_WC1'));
    for (const steel of ['WC2, welded', 'WC3, welded']) expectPrinted(constantOf(steel), expectedOf(given, 'e_WC2_WC3'));
    const heights: Readonly<Record<string, string>> = { '60.3x3.6': 'H_60.3x3.6_e0.07', '114.3x5': 'H_114.3x5_e0.10' };
    for (const { tube, e, name } of tubesOf(given)) {
      const printed = expectedOf(given, heights[name]!);
      expectPrinted(plateDistance(tube, String(e)).heightMm, printed);
      // The other way round: plates at the printed distance strained the ring by e, to what the printed digits allow.
      expect(flatteningReached(tube, String(printed.value)).outerFibreStrain).toBeCloseTo(e!, 3);
      const judged = (byMm: number): string => checkPlateDistance(
        tube, (expectedNumber(given, printed.name) + byMm).toFixed(2), { steel: 'of the case', constant: String(e), source: given.source },
      ).outcome;
      expect([judged(-0.01), judged(0.01)]).toEqual(['met', 'not met']);
    }
    expect(expectedNames(given)).toEqual(['e_ferritic_alloy', 'e_austenitic', 'e_WC1', 'e_WC2_WC3', ...Object.values(heights)]);
  },

  'flaring-expansion-wc1-wc2': (given) => {
    const shares: Readonly<Record<string, readonly number[]>> = { 'd/D<=0.6': [0.2, 0.6], '0.6<d/D<=0.8': [0.602, 0.8], 'd/D>0.8': [0.802, 0.99] };
    for (const grade of given.inputs['grades'] as string[]) {
      for (const [name, bores] of Object.entries(shares)) {
        for (const bore of bores) expect(requiredExpansion(wallFor(bore), grade)).toMatchObject({ percent: String(expectedNumber(given, name)) });
      }
    }
    expect(expectedNames(given)).toEqual(Object.keys(shares));
  },

  'api5st-flattening': (given) => {
    const accepted = (length: Expected, unit: Crack['unit'], place: Crack['place'], by: number): boolean =>
      judgeCracks5st([{ length: (Number(length.value) + by).toFixed(4), unit, place }]).accepted;
    for (const unit of ['mm', 'in'] as const) {
      const longest = expectedOf(given, `crack_or_break_max_${unit}`);
      expect([accepted(longest, unit, 'elsewhere', 0), accepted(longest, unit, 'elsewhere', 0.0001)]).toEqual([true, false]);
      expectPrinted(Number(CRACK_LIMITS_5ST[unit].longest), longest);
      const edge = expectedOf(given, `edge_crack_ignored_below_${unit}`);
      expect([accepted(edge, unit, 'edge', -0.0001), accepted(edge, unit, 'edge', 0)]).toEqual([true, false]);
      expectPrinted(Number(CRACK_LIMITS_5ST[unit].edgeIgnoredBelow), edge);
    }
    expect(FLATTENING_FREQUENCY_5ST.words).toBe(expectedOf(given, 'min_tests').value);
    const checkedHere = ['crack_or_break_max_in', 'crack_or_break_max_mm', 'edge_crack_ignored_below_in', 'edge_crack_ignored_below_mm', 'min_tests'];
    expect(expectedNames(given)).toEqual([...checkedHere, ...LEFT_OF_5ST]);
  },

  'pinch-stop': (given) => {
    expect(VENDOR_EXPANSION.percent).toBe(String(expectedNumber(given, 'flaring_expansion_min_percent')));
    const flaredTo = (flaredDiameterMm: string): string => checkExpansion({ outsideDiameterMm: '50', flaredDiameterMm }, VENDOR_EXPANSION).outcome;
    expect([flaredTo('60'), flaredTo('59.9')]).toEqual(['met', 'not met']);
    expect(expectedOf(given, 'reverse_bend').value).toBe('opened tube bent back and forth twice along the weld without cracking');
    expect([1, 2].map((bends) => checkReverseBend({ bends, crackAtWeld: false }).outcome)).toEqual(['not met', 'met']);
    expect(expectedOf(given, 'reverse_flattening').value).toBe('tube opened flat, no cracking at the weld');
    expect([false, true].map((crackAtWeld) => checkReverseFlattening({ openedFlat: true, crackAtWeld }).outcome)).toEqual(['met', 'not met']);
    expect(expectedNames(given)).toEqual(['flaring_expansion_min_percent', 'reverse_bend', 'reverse_flattening']);
  },
};

describe('published values of tests on pieces of tube', () => {
  test.each(titled(cases))('%s', (_title, given) => {
    checkOf(checks, given)(given);
  });

  test('every case is there', () => {
    expect(cases.map(({ id }) => id)).toEqual(CASES);
    expect(Object.keys(checks)).toEqual(CASES);
  });
});
