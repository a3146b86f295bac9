import { describe, expect, test } from '@jest/globals';
import { ratio } from '#libs/exact';
import type { UnitName } from '#libs/units';
import {
  arcEnergy, heatInputAsme, heatInputEn, linearEnergy, PROCESSES_WITH_EFFICIENCY, thermalEfficiency, type ArcReadings, type HeatInput, type Quantity,
} from '#libs/welding';

const of = (printed: string, unit: UnitName): Quantity => ({ printed, unit });

/** 24 V, 180 A and 300 mm/min unless told otherwise: 0.864 kJ/mm of arc energy. */
const weld = (readings: Partial<ArcReadings> = {}): ArcReadings =>
  ({ voltage: of('24', 'V'), current: of('180', 'A'), travelSpeed: of('300', 'mm/min'), ...readings });

const whyNot = (found: HeatInput): unknown => ('notComputable' in found ? [found.notComputable, found.isMissing] : found.kjPerMm);

describe('energy per length of an arc', () => {
  test('one weld, four figures, each under its own name', () => {
    const found = [arcEnergy(weld()), heatInputEn(weld(), '135'), heatInputEn(weld(), '141'), heatInputAsme(weld())];
    expect(found.map((one) => [one.method, 'exact' in one && one.exact])).toEqual([
      ['arc-energy', ratio(864n, 1000n)], ['heat-input-en', ratio(6912n, 10_000n)], ['heat-input-en', ratio(5184n, 10_000n)],
      ['heat-input-asme', ratio(864n, 1000n)],
    ]);
  });

  test('units change nothing, to the last digit', () => {
    const speeds = [of('300.0', 'mm/min'), of('0.3', 'm/min'), of('5', 'mm/s'), of('0.005', 'm/s')];
    const others = [...speeds.map((travelSpeed) => weld({ travelSpeed })), weld({ voltage: of('0.024', 'kV'), current: of('0.18', 'kA') })];
    expect(others.map((one) => arcEnergy(one))).toEqual(others.map(() => expect.objectContaining({ exact: ratio(108n, 125n) })));
    // 11.811 in/min is 299.9994 mm/min: 4.32 kW · 60 s / 299.9994 mm.
    expect(arcEnergy(weld({ travelSpeed: of('11.811', 'in/min') }))).toMatchObject({ exact: ratio(2_592_000n, 2_999_994n) });
  });

  test('says how it came about, as read and as taken', () => {
    const found = heatInputEn(weld(), '135');
    expect('explanation' in found && found.explanation).toEqual({
      what: 'Heat input by EN 1011-1', formula: 'Q = k U I / (1000 v), in kJ/mm with V, A and mm/s', source: 'EN 1011-1, ISO/TR 17671-1',
      inputs: [
        { name: 'process by ISO 4063', value: '135' }, { name: 'k, thermal efficiency', value: '0.8' },
        { name: 'U, voltage', value: '24', unit: 'V' }, { name: 'I, current', value: '180', unit: 'A' },
        { name: 'v, travel speed', value: '300', unit: 'mm/min' }, { name: 'v', value: 5, unit: 'mm/s' },
      ],
      result: { name: 'Heat input by EN 1011-1', value: 0.6912, unit: 'kJ/mm' },
    });
    const asme = heatInputAsme(weld());
    expect('explanation' in asme && asme.explanation.inputs.at(-1)).toEqual({ name: 'S, travel speed', value: '300', unit: 'mm/min' });
    expect([arcEnergy(weld()), asme].map((one) => 'explanation' in one && one.explanation.source)).toEqual(
      ['ISO/TR 18491', 'ASME BPVC section IX, QW-409.1(a)'],
    );
  });

  test.each(['0', '0.00'])('at %s mm/min there is none, and the reason is told', (printed) => {
    const still = weld({ travelSpeed: of(printed, 'mm/min') });
    const reason = 'the travel speed is 0: at a standstill there is no energy per length';
    for (const found of [arcEnergy(still), heatInputEn(still, '121'), heatInputAsme(still)]) expect(whyNot(found)).toEqual([reason, false]);
  });

  test.each([
    ['a missing speed', { travelSpeed: null }, 'the travel speed was not reported', true],
    ['a missing voltage', { voltage: null }, 'the voltage was not reported', true],
    ['a missing current', { current: null }, 'the current was not reported', true],
    ['a speed below 0', { travelSpeed: of('-300', 'mm/min') }, 'the travel speed is below 0: -300 mm/min', false],
    ['a voltage below 0', { voltage: of('-24', 'V') }, 'the voltage is below 0: -24 V', false],
    ['a current known from below', { current: of('> 500', 'A') }, 'the current is known only as > 500 A', false],
    ['a speed known from above', { travelSpeed: of('≤ 300', 'mm/min') }, 'the travel speed is known only as ≤ 300 mm/min', false],
    ['a decimal comma', { voltage: of('24,5', 'V') }, expect.stringMatching(/^the voltage cannot be read: "24,5" has a comma/), false],
  ])('%s has no figure', (_what, readings, reason, isMissing) => {
    expect(whyNot(arcEnergy(weld(readings)))).toEqual([reason, isMissing]);
  });

  test('no current is a reading and gives no energy', () => {
    expect(arcEnergy(weld({ current: of('0', 'A') }))).toMatchObject({ kjPerMm: 0 });
  });

  test('a unit of another dimension is refused', () => {
    expect(() => arcEnergy(weld({ travelSpeed: of('300', 'mm') }))).toThrow(new RangeError('cannot convert mm (length) to mm/s (speed)'));
    expect(() => heatInputEn(weld({ voltage: of('24', 'A') }), '135')).toThrow(RangeError);
  });
});

describe('thermal efficiency', () => {
  test.each(['291', '74', '52', '151', '13', '', 'MAG'])('process %j has none, and no heat input by EN 1011-1', (process) => {
    expect(thermalEfficiency(process)).toBeNull();
    const known = PROCESSES_WITH_EFFICIENCY.join(', ');
    expect(() => heatInputEn(weld(), process)).toThrow(
      new RangeError(`process ${process} of ISO 4063 has no thermal efficiency in EN 1011-1, and so no heat input by it; there is one for ${known}`),
    );
  });
});

describe('linear energy', () => {
  test('is power over speed, and says that it is no heat input', () => {
    const found = linearEnergy({ power: of('200', 'kW'), speed: of('20', 'm/min') });
    expect(found).toMatchObject({ method: 'linear-energy', exact: ratio(3n, 5n), kjPerMm: 0.6 });
    expect('explanation' in found && found.explanation).toMatchObject({
      source: 'mean power over speed; our own name, of no standard, and no heat input',
      inputs: [{ name: 'P, power', value: '200', unit: 'kW' }, { value: '20', unit: 'm/min' }, { name: 'v', unit: 'mm/s' }],
    });
    expect(linearEnergy({ power: of('4320', 'W'), speed: of('5', 'mm/s') })).toMatchObject({ exact: ratio(108n, 125n) });
  });

  test('has no value at a standstill, in reverse, or when either is missing', () => {
    const power = of('200', 'kW');
    const found = [of('0', 'm/min'), of('-2', 'm/min'), null].map((speed) => whyNot(linearEnergy({ power, speed })));
    expect(found).toEqual([
      ['the speed is 0: at a standstill there is no energy per length', false], ['the speed is below 0: -2 m/min', false],
      ['the speed was not reported', true],
    ]);
    expect(whyNot(linearEnergy({ power: null, speed: of('20', 'm/min') }))).toEqual(['the power was not reported', true]);
  });
});
