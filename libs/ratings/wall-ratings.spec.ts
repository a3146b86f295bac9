import { describe, expect, test } from '@jest/globals';
import type { ExplanationStep } from '#libs/explanation';
import { collapse, COLLAPSE_YIELD_PSI, RATING_NAMES, wallRatings, type ComputedCollapse, type ComputedPressure, type NotComputable, type PipeInputs } from '#libs/ratings';
import { convert } from '#libs/units';
import { pipeInputs, recordOf } from './rating.factory.js';

function computed<T extends ComputedPressure | ComputedCollapse>(rating: T | NotComputable): T {
  if (rating.kind !== 'computed') throw new Error(`${rating.kind}: ${rating.because}`);
  return rating;
}

const recordsOf = (steps: readonly ExplanationStep[]): string[] => steps.flatMap(({ inputs }) => inputs).flatMap(({ record }) => (record === undefined ? [] : [record.id]));

describe('ratings of a wall', () => {
  test('the inner wall is the pipe as it was made', () => {
    const { internalYield, collapse: found, triaxialInternalYield } = wallRatings('inner', pipeInputs());
    expect(computed(internalYield).pressureMpa).toBeCloseTo((0.875 * 2 * 552 * 11.99) / 244.48, 10);
    expect(computed(found)).toMatchObject({ regime: 'plastic', dOverT: 244.48 / 11.99 });
    expect(computed(found).pressureMpa).toBeCloseTo(convert(collapse(convert(552, 'MPa', 'psi'), 244.48 / 11.99).pressurePsi, 'psi', 'MPa'), 10);
    // The row of 9 5/8 in, 47 lb/ft, L-80 is 6,870 and 4,760 psi; 552 MPa are 80,061 psi.
    expect([computed(internalYield).tablePsi, computed(found).tablePsi]).toEqual(['6870', '4760']);
    const bore = 244.48 - 2 * 0.875 * 11.99;
    expect(computed(triaxialInternalYield).pressureMpa).toBeCloseTo((552 * (244.48 ** 2 - bore ** 2)) / Math.sqrt(3 * 244.48 ** 4 + bore ** 4), 10);
  });

  test('the outer wall is thinner and wider by the fold: t/(κ λ) on κ (D − t)', () => {
    const wallMm = 11.99 / (1.16 * 0.99);
    const diameterMm = 1.16 * (244.48 - 11.99) + wallMm;
    const { internalYield, collapse: found } = wallRatings('outer', pipeInputs());
    expect(computed(internalYield).pressureMpa).toBeCloseTo((0.875 * 2 * 552 * wallMm) / diameterMm, 10);
    expect(computed(found).dOverT).toBeCloseTo(diameterMm / wallMm, 10);
    const results = computed(found).steps.slice(0, 3).map(({ result }) => result);
    expect(results.map(({ name, unit }) => [name, unit])).toEqual([['wall thickness of the outer wall', 'mm'], ['mean diameter of the outer wall', 'mm'], ['outside diameter of the outer wall', 'mm']]);
    expect(results.map(({ value }) => (value as number).toFixed(3))).toEqual(['10.441', '269.688', '280.129']);
    // The volume of a metre of pipe is kept.
    const [thickness, mean] = results.map(({ value }) => value as number) as [number, number];
    expect(mean * thickness * 0.99).toBeCloseTo((244.48 - 11.99) * 11.99, 8);
  });

  test('a measured minimum wall counts in full for internal yield', () => {
    const measured = pipeInputs({ wallThicknessMm: { value: '11.99', record: null, basis: 'measured minimum' } });
    const [full, nominal] = [wallRatings('inner', measured), wallRatings('inner', pipeInputs())];
    expect(computed(full.internalYield).pressureMpa / computed(nominal.internalYield).pressureMpa).toBeCloseTo(1 / 0.875, 12);
    expect(computed(full.triaxialInternalYield).pressureMpa).toBeGreaterThan(computed(nominal.triaxialInternalYield).pressureMpa);
    expect(computed(full.collapse).pressureMpa).toBe(computed(nominal.collapse).pressureMpa);
    expect(full.cautions.join(' ')).toContain('measured minimum wall');
    expect(nominal.cautions.join(' ')).not.toContain('measured minimum wall');
  });

  test('each number of the way names its record, and the regime its limits', () => {
    const { collapse: found, internalYield } = wallRatings('outer', pipeInputs());
    expect(new Set(recordsOf(computed(found).steps))).toEqual(new Set(['diameter', 'wall', 'yield', 'kappa', 'lambda']));
    expect(new Set(recordsOf(computed(internalYield).steps))).toEqual(new Set(['diameter', 'wall', 'yield', 'kappa', 'lambda']));
    const { limits, regime, dOverT } = computed(found);
    expect(regime).toBe('transition');
    expect(dOverT).toBeGreaterThan(limits.plasticToTransition);
    expect(dOverT).toBeLessThanOrEqual(limits.transitionToElastic);
    expect(computed(found).steps.find(({ what }) => what === 'regime of collapse')!.inputs.map(({ value }) => value)).toEqual(expect.arrayContaining(Object.values(limits)));
    for (const { source, formula } of computed(found).steps) expect(Math.min(source.length, formula.length)).toBeGreaterThan(5);
    expect(computed(found).steps.at(-1)!.result).toEqual({ name: 'pressure', value: computed(found).tablePsi, unit: 'psi' });
  });

  test('cautions: always that they are advisory; of the outer wall, that nobody measured it; of a λ that no ties measured, that too', () => {
    const [inner, outer] = [wallRatings('inner', pipeInputs()), wallRatings('outer', pipeInputs())];
    for (const { cautions } of [inner, outer]) expect(cautions[0]).toBe('Computed ratings are advisory. The responsible engineer decides.');
    for (const { cautions } of [inner, outer]) expect(cautions).toContain('The ratings of the two walls do not simply add.');
    expect(outer.cautions.length).toBe(inner.cautions.length + 2);
    const assumed = pipeInputs({ lambda: { value: '1', record: null, basis: 'past the last tie (default ratio)' } });
    expect(wallRatings('outer', assumed).cautions.join(' ')).toContain('λ is not a slope between two shoe ties');
    expect(wallRatings('inner', assumed).cautions).toEqual(inner.cautions);
    const tested = pipeInputs({ yieldMpa: { value: '552', record: null, basis: 'tested' } });
    expect(wallRatings('inner', tested).cautions.join(' ')).toContain('A tested yield strength is that of one piece');
  });
});

describe('what cannot be computed', () => {
  test.each<[keyof PipeInputs, string]>([
    ['outsideDiameterMm', 'outside diameter'], ['wallThicknessMm', 'wall thickness'], ['yieldMpa', 'yield strength'], ['kappa', 'κ (diameter ratio)'], ['lambda', 'λ (length ratio)'],
  ])('%s missing: which input, for which wall', (name, words) => {
    const outer = wallRatings('outer', pipeInputs({ [name]: null }));
    for (const kind of RATING_NAMES) {
      expect(outer[kind]).toEqual({ kind: 'not computable', wall: 'outer', inputs: [name], because: `not computable for the outer wall, because ${words} of the pipe is not known` });
    }
    const isOfFold = name === 'kappa' || name === 'lambda';
    expect(wallRatings('inner', pipeInputs({ [name]: null })).collapse.kind).toBe(isOfFold ? 'computed' : 'not computable');
    expect(outer.cautions[0]).toContain('advisory');
  });

  test('all that is missing is told at once', () => {
    const nothing = { outsideDiameterMm: null, wallThicknessMm: null, yieldMpa: null, kappa: null, lambda: null };
    expect(wallRatings('inner', nothing).collapse).toMatchObject({ because: 'not computable for the inner wall, because outside diameter, wall thickness and yield strength of the pipe are not known' });
    expect(wallRatings('outer', nothing).collapse).toMatchObject({ inputs: ['outsideDiameterMm', 'wallThicknessMm', 'yieldMpa', 'kappa', 'lambda'] });
  });

  test('a yield strength outside the range of the collapse constants leaves internal yield', () => {
    const of = (yieldMpa: number): PipeInputs => pipeInputs({ yieldMpa: { value: yieldMpa.toFixed(3), record: recordOf('certificates', 'weak'), basis: 'certified' } });
    const [from, to] = [convert(COLLAPSE_YIELD_PSI.from, 'psi', 'MPa'), convert(COLLAPSE_YIELD_PSI.to, 'psi', 'MPa')];
    const weak = wallRatings('inner', of(from - 0.01));
    expect(weak.internalYield.kind).toBe('computed');
    expect(weak.collapse).toEqual({
      kind: 'not computable', wall: 'inner', inputs: ['yieldMpa'],
      because: 'not computable for the inner wall, because a yield strength of 275.780 MPa is outside 275.8 to 1034.2 MPa (40000 to 150000 psi), for which the collapse constants are checked',
    });
    expect([from + 0.01, to - 0.01, to + 0.01].map((yieldMpa) => wallRatings('inner', of(yieldMpa)).collapse.kind)).toEqual(['computed', 'computed', 'not computable']);
  });

  test('numbers that are no pipe', () => {
    const wall = (value: string): PipeInputs => pipeInputs({ wallThicknessMm: { value, record: null, basis: 'nominal' } });
    expect(wallRatings('inner', wall('122.24')).internalYield).toMatchObject({
      inputs: ['wallThicknessMm', 'outsideDiameterMm'], because: 'not computable for the inner wall, because a wall of 122.24 mm leaves no bore in an outside diameter of 244.48 mm',
    });
    expect(wallRatings('inner', wall('122.23')).internalYield.kind).toBe('computed');
    expect(wallRatings('inner', wall('0.00')).collapse).toMatchObject({ inputs: ['wallThicknessMm'], because: 'not computable for the inner wall, because wall thickness must be over 0: 0.00' });
    expect(wallRatings('outer', pipeInputs({ kappa: { value: '-1', record: null } })).collapse).toMatchObject({ inputs: ['kappa'] });
    expect(wallRatings('outer', pipeInputs({ kappa: { value: '0.2', record: null } })).collapse).toMatchObject({ kind: 'not computable', inputs: ['wallThicknessMm', 'outsideDiameterMm'] });
  });

  test('text that is no decimal is refused by name', () => {
    expect(() => wallRatings('inner', pipeInputs({ yieldMpa: { value: '552 MPa', record: null, basis: 'certified' } }))).toThrow('yield strength: not a plain decimal: "552 MPa"');
    expect(() => wallRatings('outer', pipeInputs({ kappa: { value: '1,16', record: null } }))).toThrow('κ (diameter ratio): not a plain decimal: "1,16"');
  });
});
