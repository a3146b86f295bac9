import { describe, expect, test } from '@jest/globals';
import { interval, IntervalSet } from '#libs/intervals';
import { atomsOf, cutPipe, wallRatings, type Cutting, type PipeKnowledge, type Standing } from '#libs/ratings';
import { recordOf } from './rating.factory.js';

const on = <T>(fromMm: number, toMm: number, of: T): Standing<T> => ({ interval: interval(fromMm, toMm), of });
const wall = (fromMm: number, toMm: number, value: string) => on(fromMm, toMm, { value, record: recordOf('channel', value), basis: 'measured minimum' as const });
const strength = (fromMm: number, toMm: number, value: string, basis: 'certified' | 'tested' = 'certified') => on(fromMm, toMm, { value, record: recordOf('test', value), basis });

const cutting = (changes: Partial<Cutting> = {}): Cutting => ({ pipe: IntervalSet.of(interval(0, 3000)), cutsMm: [], windowMm: 1000, ...changes });
const nothing: PipeKnowledge = { nominalDiameterMm: { value: '127.0', record: recordOf('casing-string', 'nominal') }, diameters: [], walls: [], yields: [], folds: [], reasons: [] };

const shown = (question: Cutting, knowledge: Partial<PipeKnowledge>): unknown[] => cutPipe(question, { ...nothing, ...knowledge })
  .map(({ interval: { fromMm, toMm }, inputs }) => [fromMm, toMm, inputs.wallThicknessMm?.value ?? null, inputs.yieldMpa?.value ?? null, inputs.outsideDiameterMm?.value ?? null]);

describe('pipe cut for its ratings', () => {
  test('atoms end at windows, cuts, the ends of what stands, and of what is asked', () => {
    const question = cutting({ pipe: IntervalSet.of(interval(300, 1200), interval(1900, 2100)), cutsMm: [500, 2050, 9000] });
    const ends = atomsOf(question, { yields: [strength(0, 700, '400')], folds: [], reasons: [] }).map(({ fromMm, toMm }) => [fromMm, toMm]);
    expect(ends).toEqual([[300, 500], [500, 700], [700, 1000], [1000, 1200], [1900, 2000], [2000, 2050], [2050, 2100]]);
    for (const windowMm of [0, -1, 1.5, Number.NaN]) expect(() => atomsOf(cutting({ windowMm }), nothing)).toThrow(RangeError);
  });

  test('the least wall of a window stands for the measured pipe of that window, and for no other pipe', () => {
    expect(shown(cutting(), { walls: [wall(200, 2500, '5.00'), wall(400, 401, '4.60'), wall(2900, 2901, '4.90')] })).toEqual([
      [0, 200, null, null, '127.0'], [200, 1000, '4.60', null, '127.0'], [1000, 2000, '5.00', null, '127.0'],
      [2000, 2500, '4.90', null, '127.0'], [2500, 2900, null, null, '127.0'], [2900, 2901, '4.90', null, '127.0'], [2901, 3000, null, null, '127.0'],
    ]);
  });

  test('neighbours with the same inputs are one stretch, but never over a cut', () => {
    const knowledge = { walls: [wall(0, 3000, '5.00')], yields: [strength(0, 3000, '420')] };
    expect(shown(cutting(), knowledge)).toEqual([[0, 3000, '5.00', '420', '127.0']]);
    expect(shown(cutting({ cutsMm: [1500, 2000] }), knowledge)).toEqual([[0, 1500, '5.00', '420', '127.0'], [1500, 2000, '5.00', '420', '127.0'], [2000, 3000, '5.00', '420', '127.0']]);
  });

  test('of several readings the one counts by which the pipe rates lowest, by their numbers and not their text', () => {
    const knowledge = {
      walls: [wall(0, 3000, '10.5'), wall(0, 3000, '9.6')], yields: [strength(0, 3000, '1000', 'tested'), strength(500, 3000, '420.0'), strength(500, 3000, '420')],
      diameters: [on(0, 10, { value: '126.8', record: null }), on(1000, 1010, { value: '127.3', record: recordOf('inspection', 'wide') })],
    };
    expect(shown(cutting(), knowledge)).toEqual([[0, 500, '9.6', '1000', '127.0'], [500, 1000, '9.6', '420.0', '127.0'], [1000, 2000, '9.6', '420.0', '127.3'], [2000, 3000, '9.6', '420.0', '127.0']]);
  });

  test('κ and λ come from the depth piece', () => {
    const fold = (value: string) => ({ kappa: { value: '1.16', record: null }, lambda: { value, record: null, basis: 'between ties' as const } });
    const stretches = cutPipe(cutting(), { ...nothing, folds: [on(0, 1500, fold('0.99')), on(1500, 3000, fold('0.98'))] });
    expect(stretches.map(({ interval: { toMm }, inputs }) => [toMm, inputs.lambda?.value])).toEqual([[1500, '0.99'], [3000, '0.98']]);
  });

  test('what is missing says why in the words that stand there, the first of them first', () => {
    const [first, second] = cutPipe(cutting({ windowMm: 10_000 }), {
      ...nothing, yields: [strength(0, 3000, '420')],
      reasons: [on(2000, 3000, { wallThicknessMm: 'it was read before a repair' }), on(0, 3000, { wallThicknessMm: 'no wall was read', yieldMpa: 'no certificate' })],
    });
    expect([first?.interval.toMm, first?.why, second?.why]).toEqual([2000, { wallThicknessMm: 'no wall was read' }, { wallThicknessMm: 'it was read before a repair' }]);
    expect(wallRatings('inner', first!.inputs, first!.why).collapse).toMatchObject({ because: 'not computable for the inner wall, because no wall was read' });
    // Without a reason of its own a missing input is told as before, and two reasons are told together.
    expect(wallRatings('outer', { ...first!.inputs, yieldMpa: null }, { wallThicknessMm: 'no wall was read', lambda: 'no tie' }).collapse).toMatchObject({
      because: 'not computable for the outer wall, because yield strength and κ (diameter ratio) of the pipe are not known; and no wall was read; and no tie',
    });
  });
});
