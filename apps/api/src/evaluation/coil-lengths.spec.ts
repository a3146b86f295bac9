import { describe, expect, test } from '@jest/globals';
import { checkRow, coilKnowledge, coilRow, receiptRow, segmentRow } from './coil-knowledge.factory.js';
import { coilLengths, lengthChecks, lengthText, type KnownLength } from './coil-lengths.js';
import type { CoilKnowledge } from './coil-knowledge.js';

const of = (changes: Partial<CoilKnowledge>): KnownLength[] => coilLengths(coilKnowledge(changes));
const bases = (changes: Partial<CoilKnowledge>): string[] => of(changes).map(({ basis }) => basis);
const thickness = (...readings: string[]): CoilKnowledge['checks'][number] =>
  checkRow({ readings: readings.map((printed) => ({ printed, along: 'head', across: 'centre', fromEdgeMm: null })) });
const details = (changes: Partial<CoilKnowledge>): string[] => lengthChecks(coilKnowledge(changes)).map(({ detail }) => detail);

describe('by mass, width and thickness', () => {
  test('with the figures on record: 3200 kg / (7850 kg/m³ · 383.0 mm · 5.01 mm), by hand 212.447 m', () => {
    const [first, ...others] = of({ receipts: [] });
    expect(others).toEqual([]);
    expect(first?.basis).toBe('mass, width and thickness');
    expect(first?.length.lengthMm).toBeCloseTo(3200 / (7850 * 0.383 * 5.01e-3) * 1000, 6);
    expect(first?.length.lengthMm).toBeCloseTo(212_447, -1);
    // Mass 0.2 %, width 0.1 %, thickness on paper 1 %, density 0.2 %.
    expect((first?.length.standardUMm ?? 0) / (first?.length.lengthMm ?? 1)).toBeCloseTo(Math.hypot(0.002, 0.001, 0.01, 0.002), 9);
    expect(first === undefined ? '' : lengthText(first)).toBe('212.4 m ± 4.4 m');
  });

  test('with the mass weighed here, and its uncertainty where it is stated', () => {
    const length = (weighedMassUKg: string | null): KnownLength['length'] | undefined => of({ receipts: [receiptRow({ weighedMassKg: '1600', weighedMassUKg })] })[0]?.length;
    expect(length(null)?.lengthMm).toBeCloseTo(212_447 / 2, -1);
    expect(length(null)?.contributionsMm.get('mass')).toBeCloseTo((length(null)?.lengthMm ?? 0) * 0.002, 6);
    expect(length('16')?.contributionsMm.get('mass')).toBeCloseTo((length('16')?.lengthMm ?? 0) * 0.01, 6);
    expect(length('0')?.contributionsMm.get('mass')).toBe(0);
  });

  test('with the mean thickness measured here, which is known better than the one on paper', () => {
    const [onPaper] = of({});
    const [measured] = of({ checks: [thickness('4.90', '5.00'), thickness('5.10')] });
    expect(measured?.length.lengthMm).toBeCloseTo((onPaper?.length.lengthMm ?? 0) * 5.01 / 5, 6);
    expect(measured?.length.contributionsMm.get('thickness')).toBeCloseTo(-(measured?.length.lengthMm ?? 0) * 0.005, 6);
  });

  test('with a thickness measured in inches; other characteristics and bounds are no thickness', () => {
    const inMm = of({ checks: [thickness('5.08')] });
    const inInches = of({ checks: [checkRow({ unit: 'in', readings: [{ printed: '0.2', along: 'head', across: null, fromEdgeMm: null }] })] });
    expect(inInches[0]?.length.lengthMm).toBeCloseTo(inMm[0]?.length.lengthMm ?? 0, 6);
    expect(of({ checks: [checkRow({ characteristic: 'width' }), thickness('<5.00')] })).toEqual(of({}));
  });
});

describe('by outer diameter and bore', () => {
  test('when both were measured at the delivery: 0.99 · π (1200² − 508²) mm² / (4 · 5.01 mm), by hand 183.4 m', () => {
    const [, second] = of({ receipts: [receiptRow({ outerDiameterMm: '1200', boreMm: '508', diameterUMm: '3' })] });
    expect(second?.basis).toBe('outer diameter and bore');
    expect(second?.length.lengthMm).toBeCloseTo(0.99 * Math.PI * (1200 ** 2 - 508 ** 2) / (4 * 5.01), 6);
    expect(second?.length.lengthMm).toBeCloseTo(183_430, -2);
  });

  test('a diameter without stated uncertainty is good to 4 mm; without diameters, or of a rest, there is no such length', () => {
    const [, second] = of({ receipts: [receiptRow({ outerDiameterMm: '1200', boreMm: '508' })] });
    expect(second?.length.contributionsMm.get('outer diameter')).toBeCloseTo(0.99 * Math.PI * 2 * 1200 * 4 / (4 * 5.01), 6);
    expect(bases({})).toHaveLength(1);
    expect(bases({ receipts: [receiptRow({ occasion: 'back-from-line', outerDiameterMm: '1200', boreMm: '508' })] })).toHaveLength(1);
    expect(bases({ receipts: [] })).toHaveLength(1);
  });
});

describe('stated, and consumed', () => {
  test('a length stated is good to 0.5 %', () => {
    expect(of({ coil: coilRow({ lengthMm: 200_000 }) })[1]).toMatchObject({ basis: 'stated', length: { lengthMm: 200_000, standardUMm: 1000 } });
  });

  test('what the line took, with crop and rest, once the crop tells that the coil has run out', () => {
    const segments = [segmentRow({ stripSpan: { fromMm: 0, toMm: 120_000 }, fromUMm: '3', toUMm: '4' }), segmentRow({ stripSpan: { fromMm: 120_000, toMm: 200_000 }, fromUMm: '0', toUMm: '12' })];
    expect(of({ coil: coilRow({ cropMm: 2000, restMm: 10_000 }), segments })[1]).toMatchObject({ basis: 'consumed and left over', length: { lengthMm: 212_000, standardUMm: 13 } });
    expect(bases({ coil: coilRow({ cropMm: 0, restMm: 10_000 }), segments })).toHaveLength(1);
    expect(bases({ coil: coilRow({ cropMm: 2000 }), segments: [] })).toHaveLength(1);
  });

  test('shows no less uncertainty than the last digit of the length', () => {
    const length = (standardUMm: number): string => lengthText({ basis: 'consumed and left over', length: { lengthMm: 212_000, standardUMm, contributionsMm: new Map() } });
    expect([length(13), length(50), length(70)]).toEqual(['212.0 m ± 0.1 m', '212.0 m ± 0.1 m', '212.0 m ± 0.1 m']);
    expect(length(90)).toBe('212.0 m ± 0.2 m');
  });

  test('what the line took, with the rest that came back after it; a rest that went to the line again says nothing', () => {
    const segments = [segmentRow({ stripSpan: { fromMm: 0, toMm: 100_000 }, fromUMm: '30', toUMm: '40', observedAt: '2026-03-02T08:00:00Z' })];
    const back = (observedAt: string): CoilKnowledge['receipts'][number] => receiptRow({ occasion: 'back-from-line', restLengthMm: 112_000, observedAt });
    const [, length] = of({ coil: coilRow({ restMm: 5 }), segments, receipts: [receiptRow(), back('2026-03-02T07:00:00Z'), back('2026-03-02T18:00:00Z')] });
    expect(length).toMatchObject({ basis: 'consumed and left over', length: { lengthMm: 212_000 } });
    expect(length?.length.standardUMm).toBeCloseTo(Math.hypot(50, 560), 9);
    expect(bases({ segments, receipts: [back('2026-03-02T07:59:59Z')] })).toHaveLength(1);
  });
});

describe('lengths agree', () => {
  const stated = (lengthMm: number): string[] => details({ coil: coilRow({ lengthMm }) });
  const byMass = of({})[0]?.length ?? { lengthMm: 0, standardUMm: 0 };

  test('within k = 2 of the uncertainties of both', () => {
    // |L − x| = 2·√(u² + (0.005·x)²) at x, solved from above and from below.
    const edges = [1, -1].map((sign) => {
      let x = byMass.lengthMm;
      for (let turn = 0; turn < 100; turn += 1) x = byMass.lengthMm + sign * 2 * Math.hypot(byMass.standardUMm, 0.005 * x);
      return x;
    });
    const [above = 0, below = 0] = edges;
    expect([Math.floor(above), Math.ceil(below)].map(stated)).toEqual([[], []]);
    expect(stated(Math.floor(above) + 1)).toHaveLength(1);
    expect(stated(Math.ceil(below) - 1)).toEqual([expect.stringMatching(/^212\.4 m ± 4\.4 m by mass, width and thickness, 207\.\d m ± 2\.1 m by stated: they differ by 4\.\d m, more than the ±4\.\d m \(k = 2\) of the comparison$/)]);
  });

  test('the uncertainty of a stated and of a consumed length counts', () => {
    const segments = [segmentRow({ stripSpan: { fromMm: 0, toMm: 209_000 }, fromUMm: '0', toUMm: '100' })];
    const knowledge = (lengthMm: number): Partial<CoilKnowledge> => ({ coil: coilRow({ lengthMm, cropMm: 1000 }), segments });
    // 0.5 % of 212 m are 1.06 m: 2 m lie within twice that.
    expect(details(knowledge(212_000))).toEqual([]);
    expect(details(knowledge(213_000))).toEqual([expect.stringContaining('210.0 m ± 0.2 m by consumed and left over: they differ by 3.0 m, more than the ±2.1 m')]);
  });

  test('by mass and by diameters share the thickness: it does not excuse a difference', () => {
    const coiled = (outerDiameterMm: string): string[] => details({ receipts: [receiptRow({ outerDiameterMm, boreMm: '508', diameterUMm: '1' })] });
    // 212.4 m: D² = 508² + 4 · 5.01 · 212 447 / (0.99 π), D = 1276.2 mm.
    expect(coiled('1276')).toEqual([]);
    // 3 % more section, D = 1292 mm: within twice the thickness's 1 % of both, not within twice the 1.1 % of all the rest.
    expect(coiled('1292')).toEqual([expect.stringContaining('by outer diameter and bore: they differ by')]);
    // A thickness wrong by 3 % moves both alike.
    expect(details({ coil: coilRow({ thicknessMm: '5.16' }), receipts: [receiptRow({ outerDiameterMm: '1276', boreMm: '508', diameterUMm: '1' })] })).toEqual([]);
  });
});
