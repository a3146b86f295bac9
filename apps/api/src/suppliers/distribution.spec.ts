import { describe, expect, test } from '@jest/globals';
import { exactText } from '#libs/exact';
import type { Requirement } from '#libs/strip';
import { distributionOf, LEAST_FOR_CAPABILITY, type Distribution } from './distribution.js';
import { gathered, printed, requirement, suppliedCoil } from './supplied-coil.factory.js';

const PRODUCT: Partial<Requirement> = { analysis: 'product' };

/** The distribution of carbon contents, printed one a coil. */
function of(texts: readonly string[], asked: Partial<Requirement> = PRODUCT, heatOf: (index: number) => string = () => 'H1'): Distribution {
  const coils = texts.map((text, index) => suppliedCoil({
    number: `C${String(index).padStart(2, '0')}`, heat: heatOf(index), requirements: [requirement(asked)],
    values: [printed({ analysis: asked.analysis ?? 'heat', printed: text })],
  }));
  return distributionOf(gathered(coils).characteristics[0]!);
}

const alternating = (n: number): string[] => Array.from({ length: n }, (_, index) => (index % 2 === 0 ? '0.08' : '0.09'));

describe('distributionOf', () => {
  test('Ppk from 20 values on, one step either side', () => {
    expect(of(alternating(LEAST_FOR_CAPABILITY - 1)).capability).toEqual({ noneBecause: '19 values are too few: at least 20 are asked for' });
    const { capability, summary } = of(alternating(LEAST_FOR_CAPABILITY));
    expect(capability).toMatchObject({ pp: null, ppk: (0.12 - summary!.mean) / (3 * summary!.standardDeviation!) });
  });

  test('values that are all the same have no Ppk', () => {
    expect(of(Array.from({ length: 20 }, () => '0.08')).capability).toEqual({ noneBecause: 'all 20 values are the same: the standard deviation is 0' });
  });

  test('limits printed with other digits are the same limits; other numbers are not', () => {
    const coils = (secondMax: string): Distribution => distributionOf(gathered(alternating(20).map((text, index) => suppliedCoil({
      number: `C${index}`, requirements: [requirement({ ...PRODUCT, max: index < 10 ? '0.12' : secondMax })], revision: index < 10 ? 1 : 2,
      values: [printed({ analysis: 'product', printed: text })],
    }))).characteristics[0]!);
    expect(coils('0.120')).toMatchObject({ limits: [{ words: 'at most 0.12 %' }, { words: 'at most 0.120 %', specifications: ['STS-12 revision 2'] }] });
    expect(coils('0.120').capability).toHaveProperty('ppk');
    expect(coils('0.121').capability).toEqual({ noneBecause: 'the limits differ: 2 sets of them are in force' });
  });

  test('limits that cannot be told give the reason', () => {
    const thickness = { characteristic: 'thickness', analysis: null, max: null, unit: 'mm', toleranceTable: 'No such table' } as const;
    const coil = suppliedCoil({ number: 'A', requirements: [requirement(thickness)], values: [printed({ characteristic: 'thickness', analysis: null, printed: '5.01', unit: 'mm' })] });
    expect(distributionOf(gathered([coil]).characteristics[0]!).capability).toEqual({ noneBecause: 'there is no tolerance table No such table' });
  });

  test('a heat counts once however many coils it is printed on, by the mean of its different numbers', () => {
    const texts = ['0.080', '0.080', '0.080', '0.090', '0.060', '0.0600', '<0.001', '0.13'];
    const heats = ['H1', 'H1', 'H1', 'H1', 'H2', 'H2', 'H2', 'H3'];
    const found = of(texts, {}, (index) => heats[index]!);
    expect(found).toMatchObject({ countedBy: 'heat', coilCount: 7, heatCount: 3, summary: { n: 3 } });
    // 0.085, 0.06 and 0.13: 0.0600 is the number 0.060 is.
    expect(found.summary!.mean).toBeCloseTo(0.275 / 3, 14);
    expect([found.least, found.greatest].map((point) => [exactText(point!.value), point!.of.coil.number])).toEqual([['0.06', 'C04'], ['0.13', 'C07']]);
    expect(found.counts).toMatchObject({ outside: 1, censored: 1, censoredOutside: 0, differingHeats: 1 });
  });

  test('of equal extremes the first is named', () => {
    const found = of(['0.09', '0.08', '0.08', '0.09']);
    expect([found.least?.of.coil.number, found.greatest?.of.coil.number]).toEqual(['C01', 'C00']);
  });

  test('without numbers there is nothing but counts', () => {
    expect(of(['<0.001', '0,08'])).toMatchObject({
      summary: null, quartiles: null, least: null, greatest: null, classes: [], coilCount: 0, askedCoilCount: 2,
      counts: { censored: 1, unreadable: 1 }, capability: { noneBecause: '0 values are too few: at least 20 are asked for' },
    });
  });
});
