import { describe, expect, test } from '@jest/globals';
import { aCutOut, aString, aTie, recordRef } from '../../test/fixtures/string-lengths.js';
import { explainInnerMd, explainOuterMd, explainWeldFootage } from './explain-depth.js';
import { LengthModel } from './length-model.js';

const model = new LengthModel(aString({ cutOuts: [aCutOut(10_000, 10_500, 19_000)], shoeTies: [aTie(60_500, 60_500, 22_500, 20)], scaleRelativeU: 0.001 }));

describe('an explanation', () => {
  test('of an outer depth between ties names cut-out, hang-off and tie, and ends in the figure', () => {
    const steps = explainOuterMd(model, 15_000);
    const records = steps.flatMap(({ inputs }) => inputs.map(({ record }) => record?.id)).filter((id) => id !== undefined);
    expect(new Set(records)).toEqual(new Set(['cut-10000', 'hang-off', 'tie-60500']));
    expect(steps[0]!.result).toEqual({ name: 'n', value: 14_500, unit: 'mm' });
    expect(steps[1]!.what).toContain('between ties');
    expect(steps[1]!.result.value).toBe(model.outerWall().mdAt(15_000).mdMm);
    expect(steps[2]!.result.value).toBe(2 * model.outerWall().mdAt(15_000).uMm);
  });

  test('of an outer depth past the last tie names the default ratio', () => {
    const step = explainOuterMd(model, 50_000)[1]!;
    expect(step.what).toContain('past the last tie (default ratio)');
    expect(step.inputs).toContainEqual({ name: 'λ', value: 1, unit: '1', record: recordRef('length-ratio', 'ratio') });
  });

  test('of an inner depth shows how the shoe was found, and its last values make the figure', () => {
    const shoe = model.shoeAt({ weldFootageMm: 70_500, atUs: 70_500 });
    const steps = explainInnerMd(model, 40_000, shoe);
    const values = new Map(steps.at(-2)!.inputs.map(({ name, value }) => [name, Number(value)]));
    expect(steps.some(({ formula }) => formula.startsWith('g(n_shoe) + n_shoe = n(F) − x + md_h'))).toBe(true);
    expect(values.get('md_shoe')! - (values.get('n')! - values.get('n_shoe')!)).toBeCloseTo(Number(steps.at(-2)!.result.value), 6);
    expect(steps.at(-2)!.result.value).toBe(model.innerWall(shoe).mdAt(40_000).mdMm);
  });

  test('of an inner depth at a given shoe depth does not use the counter', () => {
    const steps = explainInnerMd(model, 40_000, model.shoeAt({ shoeMdMm: 30_000 }));
    expect(steps.flatMap(({ inputs }) => inputs.map(({ name }) => name))).not.toContain('n(F)');
    expect(steps.at(-1)!.formula).toContain('u_outer(n_shoe) / λ');
  });

  test('of a footage shows the reading as read and its period, and the line between two readings', () => {
    const period = { record: recordRef('counter-period', 'p'), startReading: 10, startFootageMm: 100, scaleMmPerCount: 2, scaleRelativeU: 0 };
    const readings = [10, 60].map((reading) => ({ record: recordRef('reading', `${reading}`), atUs: reading, footageMm: 100 + 2 * (reading - 10), readIn: { period, reading } }));
    const steps = explainWeldFootage(new LengthModel(aString({ weldFootage: readings })), 35);
    expect(steps.map(({ result }) => result.value)).toEqual([100, 200, 150]);
    expect(steps[1]!.inputs.map(({ value }) => value)).toEqual([60, 100, 2, 10]);
    expect(steps[1]!.inputs[1]!.record).toEqual(period.record);
  });

  test('of an established footage says that it was recorded so', () => {
    expect(explainWeldFootage(model, 0)).toEqual([expect.objectContaining({ formula: 'F as recorded', result: expect.objectContaining({ value: 0 }) })]);
  });
});
