import { describe, expect, test } from '@jest/globals';
import { decimal, toNumber, type Ratio } from '#libs/exact';
import {
  carbonEquivalent, carbonEquivalentCen, carbonEquivalentCsa, coilLengthFromDiameters, coilLengthFromMass, ELONGATION_SI, ELONGATION_USC,
  governingEquivalent, minimumElongationPercent, minimumElongationUscPercent, plateMassKg, type LinearEquivalent,
} from '#libs/strip';
import { convert } from '#libs/units';
import { stripCases } from './strip-cases.js';
import { checkOf, expectedNames, expectedNumber, expectedOf, expectPrinted, inputNumber, titled, type TradeCase } from './trade-cases.js';

const cases = stripCases('formulas');
const exactly = (value: number): { value: number; standardU: number } => ({ value, standardU: 0 });

const checks: Readonly<Record<string, (given: TradeCase) => void>> = {
  'api5l-elongation-formula': (given) => {
    const found = { C_SI: ELONGATION_SI.constant, C_USC: ELONGATION_USC.constant, A_cap_mm2: ELONGATION_SI.areaCapMm2, A_cap_in2: ELONGATION_USC.areaCapIn2 };
    expect(found).toEqual(Object.fromEntries(given.expected.map(({ name, value }) => [name, value])));
    // The case's own verification: the two constants agree to three figures, 1943.6 against 1940.
    const [areaMm2, tensileMpa] = [200, 535];
    const usc = minimumElongationUscPercent(convert(areaMm2, 'mm2', 'in2'), convert(tensileMpa, 'MPa', 'psi'));
    expect(usc / minimumElongationPercent(areaMm2, tensileMpa)).toBeCloseTo(1943.6 / 1940, 4);
  },

  'ce-csa-z662-1999': (given) => {
    const elements = ['C', 'Mn', 'Si', 'Cu', 'Ni', 'Cr', 'Mo', 'V', 'Nb', 'B'];
    const composition = new Map(elements.map((element) => [element, inputNumber(given, element)]));
    const { percent, terms } = carbonEquivalentCsa(composition, inputNumber(given, 'F'));
    const names = terms.map(({ elements: group }) => `${group.join('')}_term`);
    expect([...names, 'CE']).toEqual(expectedNames(given));
    terms.forEach((term, index) => {
      expectPrinted(term.percent, expectedOf(given, names[index]!));
    });
    expectPrinted(percent, expectedOf(given, 'CE'));
  },

  'ce-formulas': (given) => {
    const numbers = new Map(Object.entries(given.inputs['composition'] as Record<string, number>));
    const composition = new Map([...numbers].map(([element, percent]) => [element, bounds(percent)]));
    const kinds: Readonly<Record<string, LinearEquivalent>> = { CE_IIW: 'CE(IIW)', Pcm: 'Pcm', CET: 'CET' };
    for (const [name, kind] of Object.entries(kinds)) {
      const { low, high, missing } = carbonEquivalent(kind, composition);
      expect([high, missing]).toEqual([low, []]);
      expectPrinted(toNumber(low), expectedOf(given, name));
    }
    expect(governingEquivalent(decimal(String(numbers.get('C'))))).toBe(expectedOf(given, 'api5l_selects').value);
    expect(expectedNames(given)).toEqual([...Object.keys(kinds), 'api5l_selects']);
    // CEN is named by the case's formula without a value: with A(C) written by exponentials instead of the hyperbolic tangent.
    const [c, si, mn, cu, ni] = ['C', 'Si', 'Mn', 'Cu', 'Ni'].map((element) => numbers.get(element)!) as [number, number, number, number, number];
    const [cr, mo, v, nb, b] = ['Cr', 'Mo', 'V', 'Nb', 'B'].map((element) => numbers.get(element)!) as [number, number, number, number, number];
    const accommodation = 0.5 + 0.5 / (1 + Math.exp(-40 * (c - 0.12)));
    const cen = c + accommodation * (si / 24 + mn / 6 + (cu + ni) / 15 + (cr + mo + nb + v) / 5 + 5 * b);
    expect(carbonEquivalentCen(numbers).percent).toBeCloseTo(cen, 12);
  },

  'plate-mass-6x1.51x9.75': (given) => {
    const mass = plateMassKg(inputNumber(given, 'L_m'), inputNumber(given, 'w_m'), inputNumber(given, 't_mm'), inputNumber(given, 'density_kgm3'));
    expectPrinted(mass, expectedOf(given, 'mass_kg'));
  },

  'coil-length-consistency': (given) => {
    const thicknessMm = exactly(inputNumber(given, 't_mm'));
    const byMass = coilLengthFromMass({
      massKg: exactly(inputNumber(given, 'm_kg')), widthMm: exactly(inputNumber(given, 'w_mm')), thicknessMm,
      densityKgPerM3: exactly(inputNumber(given, 'rho')),
    });
    expectPrinted(byMass.lengthMm / 1000, expectedOf(given, 'L_m'));
    const outerMm = expectedNumber(given, 'OD_mm');
    const byDiameters = coilLengthFromDiameters({ outerDiameterMm: exactly(outerMm), boreMm: exactly(inputNumber(given, 'ID_mm')), thicknessMm });
    // Half a unit of the last printed place of the diameter, 0.005 mm, carries over to the length.
    const carriedMm = (Math.PI * outerMm * 0.005) / (2 * thicknessMm.value);
    expect(Math.abs(byDiameters.lengthMm - byMass.lengthMm)).toBeLessThanOrEqual(carriedMm);
  },
};

/** A number that was reported exactly. */
function bounds(percent: number): { low: Ratio; high: Ratio } {
  const exact = decimal(String(percent));
  return { low: exact, high: exact };
}

describe('published formulas of strip', () => {
  test.each(titled(cases))('%s', (_title, given) => {
    checkOf(checks, given)(given);
  });

  test('every check belongs to a case', () => {
    expect(cases.map(({ id }) => id)).toEqual(expect.arrayContaining(Object.keys(checks)));
  });
});
