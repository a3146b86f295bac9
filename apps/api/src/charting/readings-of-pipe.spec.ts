import { describe, expect, test } from '@jest/globals';
import type { CharacteristicReading } from '../characteristics/characteristic-source.js';
import type { BarePart } from './control-chart-views.service.js';
import { countOutside, extremeOf, readingsOfPipe } from './readings-of-pipe.js';

const reading = (fromMm: number, value: number, label = ''): CharacteristicReading =>
  ({ place: { fromMm, toMm: fromMm + 10 }, values: [value], of: null, observedAt: null, records: [{ kind: 'inspection', id: String(fromMm), version: 1, label: '' }], label, coil: null });

const part = (fromMm: number, toMm: number, readings: readonly CharacteristicReading[]): Pick<BarePart, 'asked' | 'row'> => ({
  asked: { fromMm, toMm },
  row: { ground: {} as BarePart['row']['ground'], leftOut: [], points: readings.map((one) => ({ place: one.place, label: one.label, values: one.values, of: null, beginsAnew: false, readings: [one], coil: null })) },
});

describe('readings of some pipe', () => {
  test('are those that are asked about, once where two parts have one, and twice where one part has two alike', () => {
    const across = reading(95, 5.2);
    const parts = [part(0, 100, [reading(0, 5), reading(50, 5.1), reading(50, 5.1), across]), part(100, 200, [reading(60, 9), across, reading(150, 4.7)])];
    expect(readingsOfPipe(parts).map(({ values: [value] }) => value)).toEqual([5, 5.1, 5.1, 5.2, 4.7]);
  });

  test('have a least and a greatest, the first where several are equal, and a number outside, where on a limit is inside', () => {
    const readings = [reading(0, 4.85), reading(10, 5.16), reading(20, 4.8), reading(30, 5.15), reading(40, 4.8)];
    expect([extremeOf(readings, -1), extremeOf(readings, 1)]).toMatchObject([{ value: 4.8, reading: { place: { fromMm: 20 } } }, { value: 5.16, reading: { place: { fromMm: 10 } } }]);
    expect([countOutside(readings, { lower: 4.85, upper: 5.15 }), countOutside(readings, { lower: null, upper: 5.15 })]).toEqual([3, 1]);
    expect(() => extremeOf([], 1)).toThrow('without readings');
  });
});
