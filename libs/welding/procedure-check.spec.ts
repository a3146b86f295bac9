import { describe, expect, test } from '@jest/globals';
import { arcEnergy, heatInputAsme, procedureChecker, WINDOW_RULE, type ArcReadings, type ProcedureCheck } from '#libs/welding';
import { check, chosen, procedure, range, value } from './procedure.factory.js';

const VOLTAGE = range('voltage', '22', '26', 'V');
const SPEED = range('travel-speed', '280', '320', 'mm/min');

const verdictsOf = ({ lines }: ProcedureCheck): unknown[] => lines.map(({ subject, verdict }) => [subject, verdict]);

describe('values against ranges', () => {
  test('a value inside says what decided, by what rule and how far inside', () => {
    const { verdict, lines } = check({ ranges: [VOLTAGE] }, { values: [value('voltage', '24.5', 'V')] });
    expect(verdict).toBe('conforms');
    expect(lines).toEqual([{
      subject: 'voltage', name: 'voltage, mean', limits: '22 to 26 V', reported: '24.5 V', source: { label: 'weld record 14', record: null },
      verdict: 'conforms', compared: '24.5', margin: '1.5', nearest: 'max', unit: 'V', decidedBy: 'P-7 revision 2: voltage 22 to 26 V', reason: null,
      rule: `${WINDOW_RULE}. ASTM E29 absolute method: the value is compared unrounded; ` +
        'it conforms from 22 to 26 V, limits included (simple acceptance, JCGM 106 8.2).',
    }]);
    expect(WINDOW_RULE).toBe("both limits included; a procedure's window is not widened by uncertainty");
  });

  test.each([
    ['22', 'conforms', '0'], ['22.0', 'conforms', '0'], ['26', 'conforms', '0'], ['26.00', 'conforms', '0'],
    ['21.99', 'does-not-conform', '-0.01'], ['26.4', 'does-not-conform', '-0.4'],
  ])('%s V in 22 to 26 V %s', (printed, verdict, margin) => {
    const { lines } = check({ ranges: [VOLTAGE] }, { values: [value('voltage', printed, 'V')] });
    expect(lines[0]).toMatchObject({ verdict, margin: margin === '0' ? expect.stringMatching(/^0(\.0+)?$/) : margin });
  });

  test('on a limit a value conforms in whatever unit it was read', () => {
    for (const [printed, unit] of [['5', 'mm/s'], ['0.3', 'm/min'], ['300', 'mm/min']] as const) {
      const ranges = [range('travel-speed', '300', null, 'mm/min')];
      expect(check({ ranges }, { values: [value('travel-speed', printed, unit)] }).verdict).toBe('conforms');
    }
  });

  test('the thickness of either strip is checked, and the worse decides', () => {
    const thickness = range('strip-thickness', '4', '8', 'mm');
    const found = check({ ranges: [thickness] }, { values: [value('strip-thickness', '6.02', 'mm'), value('strip-thickness', '3.98', 'mm')] });
    expect([found.verdict, found.lines.map(({ margin }) => margin)]).toEqual(['does-not-conform', ['1.98', '-0.02']]);
  });

  test('several ranges of one variable all hold', () => {
    const found = check({ ranges: [VOLTAGE, range('voltage', null, '24', 'V')] }, { values: [value('voltage', '25', 'V')] });
    expect(verdictsOf(found)).toEqual([['voltage', 'conforms'], ['voltage', 'does-not-conform']]);
    expect(found.verdict).toBe('does-not-conform');
  });

  test('a range without a value is not reported; a value without a range moves nothing', () => {
    const found = check({ ranges: [VOLTAGE, SPEED] }, { values: [value('gas-flow', '700', 'L/min'), value('voltage', '24', 'V')] });
    expect(verdictsOf(found)).toEqual([['voltage', 'conforms'], ['travel-speed', 'not-reported'], ['gas-flow', 'not-limited']]);
    expect(found.verdict).toBe('not-reported');
    expect(found.lines[1]?.reported).toBeNull();
    expect(found.lines[1]?.reason).toBe('travel speed of the heat source along the weld is limited and was not reported');
    expect(found.lines[2]).toMatchObject({ limits: null, reported: '700 L/min', decidedBy: 'P-7 revision 2 has no range for it' });
    expect(found.lines[2]?.rule).toBe('not held against anything');
    expect(check({ ranges: [VOLTAGE] }, { values: [value('voltage', '24', 'V'), value('gas-flow', '700', 'L/min')] }).verdict).toBe('conforms');
  });

  test('a range without limits asks for a report only', () => {
    const asked = { ranges: [range('voltage', null, null, 'V')] };
    const found = check(asked, { values: [value('voltage', '90', 'V')] });
    expect(found).toMatchObject({ verdict: 'conforms', lines: [{ limits: 'report only', margin: null }] });
    expect(check(asked, {}).verdict).toBe('not-reported');
  });

  test.each([
    ['another dimension', value('voltage', '24', 'A')], ['a bound that tells too little', value('voltage', '> 20', 'V')],
    ['digits that cannot be read', value('voltage', '24,5', 'V')],
  ])('%s is not comparable, and says why', (_what, given) => {
    const { verdict, lines } = check({ ranges: [VOLTAGE] }, { values: [given] });
    expect(verdict).toBe('not-comparable');
    expect(lines[0]?.reason).not.toBeNull();
  });

  test('a bound that tells enough is compared', () => {
    expect(check({ ranges: [range('power', null, '300', 'kW')] }, { values: [value('power', '< 250', 'kW')] }).verdict).toBe('conforms');
    expect(check({ ranges: [VOLTAGE] }, { values: [value('voltage', '> 30', 'V')] }).verdict).toBe('does-not-conform');
  });
});

describe('computed heat input', () => {
  const readings = (travelSpeed: string): ArcReadings =>
    ({ voltage: { printed: '24', unit: 'V' }, current: { printed: '180', unit: 'A' }, travelSpeed: { printed: travelSpeed, unit: 'mm/min' } });
  const source = { label: 'computed', record: null };
  const LIMITED = { ranges: [range('arc-energy', '0.5', '0.864', 'kJ/mm')] };

  test('is compared exactly: on the limit it conforms, and just beyond it does not', () => {
    const found = ['300', '299.999'].map((speed) => check(LIMITED, { values: [{ energy: arcEnergy(readings(speed)), source }] }));
    expect(found.map(({ verdict }) => verdict)).toEqual(['conforms', 'does-not-conform']);
    expect(found[0]?.lines[0]).toMatchObject({ subject: 'arc-energy', reported: '0.864 kJ/mm, computed', compared: '0.864', margin: '0' });
    expect(found[1]?.lines[0]?.margin).toMatch(/^-0\.00000288/);
  });

  test('is held in the unit of the range', () => {
    const found = check({ ranges: [range('arc-energy', null, '864', 'J/mm')] }, { values: [{ energy: arcEnergy(readings('300')), source }] });
    expect([found.verdict, found.lines[0]?.compared]).toEqual(['conforms', '864']);
  });

  test('of one method does not answer for another', () => {
    const found = check(LIMITED, { values: [{ energy: heatInputAsme(readings('300')), source }] });
    expect(verdictsOf(found)).toEqual([['arc-energy', 'not-reported'], ['heat-input-asme', 'not-limited']]);
  });

  test('that could not be computed does not pass: not comparable, or not reported where a reading is missing', () => {
    const still = check(LIMITED, { values: [{ energy: arcEnergy(readings('0')), source }] });
    expect(still).toMatchObject({
      verdict: 'not-comparable', lines: [{ reported: null, reason: 'the travel speed is 0: at a standstill there is no energy per length' }],
    });
    const missing = check(LIMITED, { values: [{ energy: arcEnergy({ ...readings('300'), current: null }), source }] });
    expect(missing).toMatchObject({ verdict: 'not-reported', lines: [{ reason: 'the current was not reported' }] });
    const free = check({ ranges: [VOLTAGE] }, { values: [value('voltage', '24', 'V'), { energy: arcEnergy(readings('0')), source }] });
    expect(free.lines[1]).toMatchObject({ verdict: 'not-limited', reported: null, reason: expect.stringContaining('standstill') });
  });
});

describe('choices against lists', () => {
  const MATERIAL = { choice: 'material', allowed: ['S355MC', 'S420MC'] } as const;

  test('either coil has to be of a grade that is listed', () => {
    const found = check({ lists: [MATERIAL] }, { chosen: [chosen('material', 'S355MC'), chosen('material', 'S500MC')] });
    expect(found.verdict).toBe('does-not-conform');
    expect(found.lines).toMatchObject([
      { verdict: 'conforms', limits: 'S355MC, S420MC', margin: null, reason: null, rule: 'one of those listed, letter for letter' },
      { verdict: 'does-not-conform', reason: 'S500MC is not among S355MC, S420MC', decidedBy: 'P-7 revision 2: material S355MC, S420MC' },
    ]);
  });

  test('letter for letter', () => {
    expect(['s355mc', 'S355 MC', 'S355', ''].map((grade) => check({ lists: [MATERIAL] }, { chosen: [chosen('material', grade)] }).verdict))
      .toEqual(Array.from({ length: 4 }, () => 'does-not-conform'));
  });

  test('a list without a choice is not reported, a choice without a list is not limited', () => {
    const lists = [MATERIAL, { choice: 'heat-treatment', allowed: ['no'] }] as const;
    const found = check({ lists }, { chosen: [chosen('heat-treatment', 'no'), chosen('gas', 'M21')] });
    expect(verdictsOf(found)).toEqual([['material', 'not-reported'], ['heat-treatment', 'conforms'], ['gas', 'not-limited']]);
    expect(found.verdict).toBe('not-reported');
    expect(found.lines[2]?.decidedBy).toBe('P-7 revision 2 has no list for it');
  });

  test('the whole takes ranges and lists together', () => {
    const rules = { ranges: [VOLTAGE], lists: [MATERIAL] };
    const good = { values: [value('voltage', '24', 'V')], chosen: [chosen('material', 'S420MC')] };
    expect(check(rules, good).verdict).toBe('conforms');
    expect(check(rules, { ...good, chosen: [chosen('material', 'S700MC')] }).verdict).toBe('does-not-conform');
    expect(check(rules, { ...good, values: [value('voltage', '27', 'V')] }).verdict).toBe('does-not-conform');
  });
});

describe('a procedure that says nothing sensible is refused', () => {
  test.each([
    ['limits nothing', {}, 'P-7 revision 2 limits nothing'],
    ['limits no weld variable', { ranges: [range('colour', '1', '2', 'mm')] }, 'P-7 revision 2 limits colour, which is no weld variable'],
    ['limits in a foreign unit', { ranges: [range('voltage', '1', '2', 'A')] }, 'P-7 revision 2 limits voltage in A, and not in one of V, kV'],
    ['has an empty list', { lists: [{ choice: 'gas' as const, allowed: [] }] }, 'P-7 revision 2 lists nothing for gas'],
    ['has reversed limits', { ranges: [range('voltage', '26', '22', 'V')] }, 'limits are reversed: min 26, max 22'],
  ])('it %s', (_what, rules, message) => {
    expect(() => procedureChecker(procedure(rules))).toThrow(new RangeError(message));
  });

  test('a limit that is no decimal', () => {
    expect(() => procedureChecker(procedure({ ranges: [range('voltage', '22 V', null, 'V')] }))).toThrow(SyntaxError);
  });
});
