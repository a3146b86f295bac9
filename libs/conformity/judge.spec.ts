import { describe, expect, test } from '@jest/globals';
import type { JudgeOptions, Limits } from '#libs/conformity';
import { judge, judgeBounds } from '#libs/conformity';
import { decimal } from '#libs/exact';
import { ABSOLUTE, GUARDED, judged, limits, PROOF, ROUNDING, verdicts } from './judge.factory.js';

const NOTHING_STATED: JudgeOptions = { toDecimals: null, expandedU: null };

describe('simple acceptance', () => {
  test('limits belong to what conforms; one digit further does not', () => {
    const texts = ['0.019', '0.020', '0.0200', '0.025', '0.0250', '0.026'];
    const expected = ['does-not-conform', 'conforms', 'conforms', 'conforms', 'conforms', 'does-not-conform'];
    expect(verdicts(limits('0.020', '0.025'), ABSOLUTE, texts)).toEqual(expected);
    expect(verdicts(limits('0.020', '0.025'), ROUNDING, texts)).toEqual(expected);
  });

  test('the two methods of ASTM E29 differ by what rounds to the limit', () => {
    const texts = ['0.0254', '0.0255', '0.02549'];
    expect(verdicts(limits(null, '0.025'), ABSOLUTE, texts)).toEqual(['does-not-conform', 'does-not-conform', 'does-not-conform']);
    expect(verdicts(limits(null, '0.025'), ROUNDING, texts)).toEqual(['conforms', 'does-not-conform', 'conforms']);
  });

  test('a tie goes to the even digit: up to 0.026 past 0.025, down to 0.024 past 0.024', () => {
    expect(judged(limits(null, '0.025'), ROUNDING, '0.0255')).toMatchObject({ verdict: 'does-not-conform', compared: '0.026', margin: '-0.001' });
    expect(judged(limits(null, '0.024'), ROUNDING, '0.0245')).toMatchObject({ verdict: 'conforms', compared: '0.024', margin: '0.000' });
    expect(judged(limits('0.024', null), ROUNDING, '0.0235')).toMatchObject({ verdict: 'conforms', compared: '0.024' });
    expect(judged(limits('0.025', null), ROUNDING, '0.0245')).toMatchObject({ verdict: 'does-not-conform', compared: '0.024' });
  });

  test('a place that the specification states goes before the digits of the limit', () => {
    expect(judged(limits('480', null, 'MPa'), ROUNDING, '477', { toDecimals: -1 })).toMatchObject({ verdict: 'conforms', compared: '480', margin: '0' });
    expect(judged(limits(null, '0.9', '1'), ROUNDING, '0.93', { toDecimals: 2 })).toMatchObject({ verdict: 'does-not-conform', compared: '0.93', margin: '-0.03' });
  });

  test('under the rounding method a tighter limit with fewer digits passes what a wider one refuses', () => {
    expect(judged(limits(null, '0.0252'), ROUNDING, '0.0254').verdict).toBe('does-not-conform');
    expect(judged(limits(null, '0.025'), ROUNDING, '0.0254').verdict).toBe('conforms');
    expect(verdicts(limits(null, '0.0252'), ROUNDING, ['0.0254'], { toDecimals: 4 })).toEqual(['does-not-conform']);
    expect(verdicts(limits(null, '0.025'), ROUNDING, ['0.0254'], { toDecimals: 4 })).toEqual(['does-not-conform']);
  });

  test('each limit has its own place', () => {
    const given = limits('0.2', '0.50');
    expect(judged(given, ROUNDING, '0.16')).toMatchObject({ verdict: 'conforms', compared: '0.2', nearest: 'min', margin: '0.0' });
    expect(judged(given, ROUNDING, '0.506')).toMatchObject({ verdict: 'does-not-conform', compared: '0.51', nearest: 'max', margin: '-0.01' });
  });

  test('the judgement says what was compared, and how, in a sentence', () => {
    expect(judged(limits('0.020', '0.025'), ROUNDING, '0.0213')).toEqual({
      verdict: 'conforms',
      compared: '0.021',
      margin: '0.001',
      nearest: 'min',
      acceptance: { min: '0.020', max: '0.025' },
      conformanceProbability: null,
      rule:
        'ASTM E29 rounding method: the value is rounded half to even to 3 decimals, the last digit of the limit, then compared; ' +
        'it conforms from 0.020 to 0.025 %, limits included (simple acceptance, JCGM 106 8.2).',
      reason: null,
    });
  });
});

describe('units', () => {
  test('the value is converted exactly before anything else', () => {
    expect(judged(limits(null, '0.0250'), ABSOLUTE, '250', { unit: 'ppm' })).toMatchObject({ verdict: 'conforms', compared: '0.025', margin: '0' });
    expect(judged(limits(null, '0.0250'), ABSOLUTE, '250.1', { unit: 'ppm' })).toMatchObject({ verdict: 'does-not-conform', margin: '-0.00001' });
    expect(judged(limits('6.35', null, 'mm'), ABSOLUTE, '0.250', { unit: 'in' })).toMatchObject({ verdict: 'conforms', compared: '6.35' });
    expect(judged(limits('485', null, 'MPa'), ABSOLUTE, '485', { unit: 'N/mm2' }).verdict).toBe('conforms');
    expect(judged(limits('100', null, 'degC'), ABSOLUTE, '212', { unit: 'degF' })).toMatchObject({ verdict: 'conforms', compared: '100', margin: '0' });
  });

  test('a value without an end is shown with three digits of its margin', () => {
    const { compared, margin, rule } = judged(limits('482.633', null, 'MPa'), ABSOLUTE, '70.0', { unit: 'ksi' });
    expect({ compared, margin }).toEqual({ compared: '482.6330105', margin: '0.0000105' });
    expect(rule).toContain('the value is converted exactly from ksi to MPa and compared unrounded');
  });

  test('the multiplier of a column is taken out first, and not of the uncertainty', () => {
    expect(judged(limits(null, '0.09'), GUARDED, '8.5', { multiplier: '100', expandedU: '0.004' })).toMatchObject({
      verdict: 'conforms', compared: '0.085', margin: '0.005', acceptance: { min: null, max: '0.086' },
    });
  });

  test('different dimensions and hardness scales are not comparable, and both are named', () => {
    expect(judged(limits(null, '250', 'HV10'), ABSOLUTE, '21', { unit: 'HRC' })).toMatchObject({
      verdict: 'not-comparable',
      compared: '21 HRC',
      margin: null,
      nearest: null,
      reason: 'the value is in HRC (a scale of its own) and the limits are in HV10 (a scale of its own): they are not comparable',
    });
    expect(judged(limits(null, '510', 'MPa'), ROUNDING, '0.93', { unit: '1' }).reason).toBe(
      'the value is in 1 (fraction) and the limits are in MPa (pressure): they are not comparable',
    );
    expect(judged(limits(null, '250', 'HV10'), ABSOLUTE, '250', { unit: 'HV10' }).verdict).toBe('conforms');
  });

  test('the sentence of the rule speaks of no conversion that there is not', () => {
    expect(judged(limits(null, '250', 'HV10'), ABSOLUTE, '21', { unit: 'HRC' }).rule).not.toContain('converted');
  });
});

describe('values that cannot be read or are only reported', () => {
  test('what cannot be read is not comparable, with the fault as reason', () => {
    expect(judged(limits(null, '0.025'), ABSOLUTE, '0,02')).toMatchObject({
      verdict: 'not-comparable', compared: '0,02', margin: null, conformanceProbability: null,
      reason: '"0,02" has a comma, which may part decimals or thousands: only a decimal point is read',
    });
    expect(judged(limits(null, '0.025'), ABSOLUTE, '0.02', { expandedU: '-1' }).verdict).toBe('not-comparable');
    expect(judged(limits(null, '0.025'), ABSOLUTE, '0.02', { multiplier: '0' }).verdict).toBe('not-comparable');
  });

  test('without limits a value conforms, whatever the decision rule needs', () => {
    expect(judged(limits(null, null), GUARDED, '0.0850')).toEqual({
      verdict: 'conforms', compared: '0.0850', margin: null, nearest: null, acceptance: { min: null, max: null },
      conformanceProbability: null, rule: 'report only', reason: null,
    });
    expect(judged(limits(null, null), ABSOLUTE, 'n/a').verdict).toBe('not-comparable');
    expect(judged(limits(null, null), ABSOLUTE, '5', { unit: 'MPa' }).verdict).toBe('not-comparable');
  });
});

describe('values known only on one side', () => {
  test('all that the value can be has to conform, or all has not to', () => {
    expect(verdicts(limits(null, '0.001'), ABSOLUTE, ['<0.001', '≤0.001', '>0.001', '≥0.001'])).toEqual([
      'conforms', 'conforms', 'does-not-conform', 'not-comparable',
    ]);
    expect(verdicts(limits('0.001', null), ABSOLUTE, ['<0.001', '≤0.001', '>0.001', '≥0.001'])).toEqual([
      'does-not-conform', 'not-comparable', 'conforms', 'conforms',
    ]);
  });

  test('the margin is what holds for all that the value can be', () => {
    expect(judged(limits(null, '0.020'), ABSOLUTE, '<0.001')).toMatchObject({ compared: '< 0.001', margin: '0.019', nearest: 'max' });
    expect(judged(limits('27', null, 'J'), ABSOLUTE, '≥100')).toMatchObject({ compared: '≥ 100', margin: '73', nearest: 'min' });
    expect(judged(limits(null, '0.0005'), ABSOLUTE, '>0.001')).toMatchObject({ verdict: 'does-not-conform', margin: '-0.0005' });
  });

  test('a limit in between leaves it open, and the reason says what the value would have to be', () => {
    expect(judged(limits(null, '0.0005'), ABSOLUTE, '<0.001')).toMatchObject({
      verdict: 'not-comparable', compared: '< 0.001', margin: null, nearest: null,
      reason: 'the value is known only as < 0.001 %: to conform it would have to be at most 0.0005 %',
    });
    expect(judged(limits('0.01', '0.05'), ROUNDING, '>0.02').reason).toBe(
      'the value is known only as > 0.02 %: to conform it would have to be from 0.01 to 0.05 % once rounded',
    );
  });

  test('what is just below 0.001 rounds to 0.001: under the rounding method that can meet a minimum', () => {
    expect(verdicts(limits('0.001', null), ROUNDING, ['<0.001', '0.0009', '0.0004'])).toEqual(['not-comparable', 'conforms', 'does-not-conform']);
    expect(judged(limits(null, '0.001'), ROUNDING, '<0.001')).toMatchObject({ verdict: 'conforms', compared: '< 0.001', margin: '0.000' });
    expect(judged(limits(null, '0.001'), ROUNDING, '<0.0014')).toMatchObject({ verdict: 'conforms', compared: '≤ 0.001', margin: '0.000' });
  });

  test('it has no conformance probability', () => {
    expect(judged(limits(null, '0.02'), GUARDED, '<0.001', { expandedU: '0.002' })).toMatchObject({ verdict: 'conforms', conformanceProbability: null });
  });
});

describe('judgeBounds', () => {
  test('a carbon equivalent with elements that nobody reported has no upper bound', () => {
    const judgeOne = judgeBounds(limits(null, '0.43'), ABSOLUTE, NOTHING_STATED);
    const atLeast = (text: string) => ({ low: decimal(text), high: null, lowOpen: false, highOpen: false, decimals: 2 });
    expect(judgeOne(atLeast('0.31'), '%')).toMatchObject({
      verdict: 'not-comparable', compared: '≥ 0.31', reason: 'the value is known only as ≥ 0.31 %: to conform it would have to be at most 0.43 %',
    });
    expect(judgeOne(atLeast('0.44'), '%')).toMatchObject({ verdict: 'does-not-conform', margin: '-0.01' });
  });

  test('between two bounds', () => {
    const judgeOne = judgeBounds(limits(null, '0.43'), ABSOLUTE, NOTHING_STATED);
    const bounds = { low: decimal('0'), high: decimal('0.0012'), lowOpen: false, highOpen: false, decimals: 4 };
    expect(judgeOne(bounds, '%')).toMatchObject({ verdict: 'conforms', compared: '0 to 0.0012', margin: '0.4288' });
    expect(judgeOne({ ...bounds, low: decimal('0.42'), high: decimal('0.4300'), highOpen: true }, '%')).toMatchObject({ verdict: 'conforms', compared: '0.42 to < 0.43' });
    expect(() => judgeOne({ ...bounds, low: decimal('1') }, '%')).toThrow(new RangeError('there is no value between the bounds'));
  });

  test('nothing known at all is not comparable', () => {
    const nothing = { low: null, high: null, lowOpen: false, highOpen: false, decimals: 0 };
    expect(judgeBounds(limits('0.1', '0.2'), ABSOLUTE, NOTHING_STATED)(nothing, '%')).toMatchObject({ verdict: 'not-comparable', compared: 'any value' });
  });
});

describe('a requirement that says nothing sensible is refused at once', () => {
  const refused = (given: Limits, rules = ABSOLUTE, options = NOTHING_STATED) => () => judge(given, rules, options);

  test.each([
    ['a limit that is no number', refused(limits(null, '0,025')), new SyntaxError('not a plain decimal: "0,025"')],
    ['reversed limits', refused(limits('0.3', '0.2')), new RangeError('limits are reversed: min 0.3, max 0.2')],
    ['a guard factor below 0', refused(limits(null, '1'), { ...GUARDED, guardFactor: '-1' }), new RangeError('guardFactor is below 0: -1')],
    ['a guard factor that is no number', refused(limits(null, '1'), { ...PROOF, guardFactor: '' }), new SyntaxError('not a plain decimal: ""')],
    ['an uncertainty below 0', refused(limits(null, '1'), ABSOLUTE, { toDecimals: null, expandedU: '-0.1' }), new RangeError('expandedU is below 0: -0.1')],
    ['half a place', refused(limits(null, '1'), ROUNDING, { toDecimals: 1.5, expandedU: null }), new RangeError('toDecimals is not a whole number from -15 to 15: 1.5')],
    ['a place out of sight', refused(limits(null, '1'), ROUNDING, { toDecimals: 16, expandedU: null }), new RangeError('toDecimals is not a whole number from -15 to 15: 16')],
  ])('%s', (_name, act, error) => {
    expect(act).toThrow(error);
    expect(act).toThrow(error.constructor);
  });

  test('equal limits are one value', () => {
    expect(verdicts(limits('5', '5'), ABSOLUTE, ['5', '5.0', '5.01'])).toEqual(['conforms', 'conforms', 'does-not-conform']);
  });
});
