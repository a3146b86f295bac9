import { describe, expect, test } from '@jest/globals';
import type { SourcedValue } from '#libs/strip';
import { ABSOLUTE, evaluate, GUARDED, lines, requirement, ROUNDING, value } from './evaluation.factory.js';

describe('impact tests and camber', () => {
  const impact = requirement('KV2', { min: '40', temperatureC: '-20' });
  const tested = (printed: string, temperatureC: string | null): SourcedValue => value('KV2', printed, { temperatureC });
  const found = (...values: SourcedValue[]) => lines(impact, values).map(({ printed, verdict, reason }) => [printed, verdict, reason]);

  test('at the temperature asked for: 40 J conforms, 39 J does not', () => {
    expect(found(tested('40', '-20'), tested('39', '-20.0'))).toEqual([['40 J', 'conforms', null], ['39 J', 'does-not-conform', null]]);
  });

  test('colder conforms when it reaches the energy; when not it says nothing', () => {
    const words = 'tested at -40 °C, colder than the -20 °C asked for';
    expect(found(tested('40', '-40'))).toEqual([['40 J', 'conforms', words]]);
    expect(found(tested('39', '-40'))).toEqual([['39 J', 'not-comparable', `${words}: what falls short there may conform at the temperature asked for`]]);
  });

  test('warmer is not comparable, and neither is a test of which no temperature is stated', () => {
    expect(found(tested('200', '-19'))).toEqual([['200 J', 'not-comparable', 'tested at -19 °C, warmer than the -20 °C asked for']]);
    expect(found(tested('200', null))).toEqual([['200 J', 'not-comparable', 'no test temperature is stated; asked for is -20 °C']]);
  });

  test('asked for at two temperatures each is judged by its own tests', () => {
    const values = [tested('60', '-20'), tested('30', '-40')];
    const two = [impact, requirement('KV2', { min: '27', temperatureC: '-40' })];
    expect(evaluate(two, values)).toMatchObject({ verdict: 'conforms', lines: [{ requirement: 0, printed: '60 J' }, { requirement: 1, printed: '30 J' }] });
    expect(evaluate(two, [tested('60', '-20'), tested('26', '-40')]).verdict).toBe('does-not-conform');
  });

  test('beside tests as asked, a value in doubt at another temperature leaves it open: the temperature may be what is in doubt', () => {
    const doubtful = (temperatureC: string) => ({ ...tested('60', temperatureC), doubt: 'the two keyings differ' });
    expect(found(tested('60', '-20'), doubtful('-40'))).toEqual([
      ['60 J', 'conforms', null], ['60 J', 'not-comparable', 'the two keyings differ; tested at -40 °C, colder than the -20 °C asked for'],
    ]);
    expect(found(tested('60', '-40'), doubtful('0'))[1]).toEqual(['60 J', 'not-comparable', 'the two keyings differ; tested at 0 °C, warmer than the -20 °C asked for']);
  });

  test('what falls short even at a warmer temperature leaves it open, beside tests as asked and beside colder ones', () => {
    const short = ['8 J', 'not-comparable', 'falls short even at 0 °C, warmer than the -20 °C asked for'];
    expect(found(tested('60', '-20'), tested('8', '0'))).toEqual([['60 J', 'conforms', null], short]);
    expect(found(tested('60', '-40'), tested('8', '0'))[1]).toEqual(short);
    expect(found(tested('8', '0'))).toEqual([short]);
    expect(found(tested('60', '-20'), tested('39.9', '0'))).toHaveLength(2);
    expect(found(tested('60', '-20'), tested('40', '0'))).toEqual([['60 J', 'conforms', null]]);
    expect(evaluate([requirement('KV2', { min: '27', temperatureC: '-20' })], [tested('60', '-40'), tested('8', '0')]).verdict).toBe('not-comparable');
  });

  test('so does what cannot be told to reach the energy at a warmer temperature', () => {
    const words = 'tested at 0 °C, warmer than the -20 °C asked for';
    expect(found(tested('60', '-20'), tested('<45', '0'))[1]).toEqual(['<45 J', 'not-comparable', expect.stringContaining(`${words}; the value is known only as`)]);
    expect(found(tested('60', '-20'), tested('4O', '0'))[1]).toEqual(['4O J', 'not-comparable', expect.stringContaining(`${words}; `)]);
    expect(found(tested('60', '-20'), tested('≥40', '0'))).toHaveLength(1);
  });

  test('what falls short colder says nothing beside a test as asked, unless it is in doubt', () => {
    expect(found(tested('60', '-20'), tested('8', '-40'), tested('n/a', '-40'))).toEqual([['60 J', 'conforms', null]]);
  });

  test('an energy that reaches the minimum warmer stays out, though it lies in the guard band or states no uncertainty', () => {
    const stated = (printed: string, expandedU: string | null, temperatureC: string) => value('KV2', printed, { expandedU, temperatureC });
    for (const expandedU of ['5', null]) {
      expect(lines(impact, [stated('60', '5', '-20'), stated('41', expandedU, '0')], GUARDED)).toMatchObject([{ verdict: 'conforms' }]);
      expect(lines(impact, [stated('60', '5', '-20'), stated('39', expandedU, '0')], GUARDED)).toMatchObject([{ verdict: 'conforms' }, { verdict: 'not-comparable' }]);
    }
  });

  test('with limits on both sides or a largest energy only, no condition is easier', () => {
    for (const limits of [{ max: '200' }, { min: null, max: '200' }]) expect(lines({ ...impact, ...limits }, [tested('60', '-20'), tested('8', '0')])).toHaveLength(1);
  });

  test('asked for at two temperatures, what answers the other as asked leaves this one open only where it falls short of this one, warmer', () => {
    const two = [impact, requirement('KV2', { min: '50', temperatureC: '0' })];
    const perRequirement = (...values: SourcedValue[]) => evaluate(two, values).lines.map(({ requirement: place, printed, verdict }) => [place, printed, verdict]);
    const asked = tested('60', '-20');
    expect(perRequirement(asked, tested('45', '0'))).toEqual([[0, '60 J', 'conforms'], [1, '45 J', 'does-not-conform']]);
    expect(perRequirement(asked, tested('39', '0'))).toEqual([[0, '60 J', 'conforms'], [0, '39 J', 'not-comparable'], [1, '39 J', 'does-not-conform']]);
    expect(perRequirement(asked, tested('n/a', '0'))).toEqual([[0, '60 J', 'conforms'], [1, 'n/a J', 'not-comparable']]);
    expect(perRequirement(asked, { ...tested('60', '0'), doubt: 'the two keyings differ' })).toEqual([[0, '60 J', 'conforms'], [1, '60 J', 'not-comparable']]);
    // At 10 °C it answers neither.
    expect(perRequirement(asked, tested('60', '0'), { ...tested('60', '10'), doubt: 'the two keyings differ' })).toEqual([
      [0, '60 J', 'conforms'], [0, '60 J', 'not-comparable'], [1, '60 J', 'conforms'], [1, '60 J', 'not-comparable'],
    ]);
  });

  test('a camber in doubt over another base length leaves it open', () => {
    const camber = requirement('camber', { max: '3', baseMm: '2000' });
    const values = [value('camber', '2', { baseMm: '2000' }), value('camber', '2', { baseMm: '5000', doubt: 'the two keyings differ' })];
    expect(lines(camber, values).map(({ verdict }) => verdict)).toEqual(['conforms', 'not-comparable']);
  });

  test('a camber belongs to its base length', () => {
    const camber = requirement('camber', { min: '-3', max: '3', baseMm: '2000' });
    const over = (printed: string, baseMm: string | null) => value('camber', printed, { baseMm });
    expect(lines(camber, [over('3', '2000'), over('-3.1', '2000.0')]).map(({ verdict }) => verdict)).toEqual(['conforms', 'does-not-conform']);
    expect(lines(camber, [over('2', '5000')])).toMatchObject([{ verdict: 'not-comparable', reason: 'measured over 5000 mm; the limit is over 2000 mm' }]);
    expect(lines(camber, [over('2', null)])).toMatchObject([{ verdict: 'not-comparable', reason: 'no base length is stated; asked for is 2000 mm' }]);
  });
});

describe('the ordered size', () => {
  const ordered = { thicknessMm: '5.00', widthMm: '383.0' };
  const thickness = requirement('thickness', { min: '-0.15', max: '0.15', limitOf: 'deviation' });
  const verdictOf = (printed: string, conformity = ABSOLUTE, toDecimals: number | null = null) =>
    lines({ ...thickness, toDecimals }, [value('thickness', printed)], conformity, ordered)[0]?.verdict;

  test('gives the limits: 4.85 to 5.15 mm', () => {
    expect(['4.849', '4.85', '5.15', '5.151'].map((printed) => verdictOf(printed))).toEqual(['does-not-conform', 'conforms', 'conforms', 'does-not-conform']);
    // Rounded to the two decimals of the limits, half to even: 4.845 to 4.84, 5.155 to 5.16.
    expect(['4.845', '4.846', '5.154', '5.155'].map((printed) => verdictOf(printed, ROUNDING))).toEqual(['does-not-conform', 'conforms', 'conforms', 'does-not-conform']);
  });

  test('and a stated place goes before the digits of the limits', () => {
    expect(['4.8494', '4.8495', '4.8505'].map((printed) => verdictOf(printed, ROUNDING, 3))).toEqual(['does-not-conform', 'conforms', 'conforms']);
    // 4.8495 lies half way between 4.849 and 4.850: to the even one.
    expect(lines({ ...thickness, toDecimals: 3 }, [value('thickness', '4.8495')], ROUNDING, ordered)[0]?.compared).toBe('4.850');
  });

  test('in inches a value just on the limit conforms: 5 mm and 0.1 in are 7.54 mm', () => {
    const inInches = { ...thickness, min: null, max: '0.1', unit: 'in' } as const;
    const found = ['7.54', '7.5401'].map((printed) => lines(inInches, [value('thickness', printed)], ABSOLUTE, ordered)[0]?.verdict);
    expect(found).toEqual(['conforms', 'does-not-conform']);
  });

  test('without an order nothing is compared', () => {
    expect(lines(thickness, [value('thickness', '5.00')])).toMatchObject([
      { verdict: 'not-comparable', reason: 'no order says the ordered size that these limits start from', limits: '-0.15 to 0.15 mm from the ordered size' },
    ]);
    expect(lines(thickness, [])).toMatchObject([{ verdict: 'not-reported' }]);
  });

  test('by a table whose cell is missing nothing is compared', () => {
    const byTable = requirement('thickness', { toleranceTable: 'EN 10051 category A' });
    expect(lines(byTable, [value('thickness', '5.00')], ABSOLUTE, ordered)).toMatchObject([
      { verdict: 'not-comparable', reason: 'EN 10051 category A: no row with a source for a thickness of 5.00 mm', limitsFrom: 'EN 10051 category A: no row with a source for a thickness of 5.00 mm' },
    ]);
    expect(['4.74', '4.75', '5.27', '5.28'].map((printed) => lines(byTable, [value('thickness', printed)], ABSOLUTE, { ...ordered, thicknessMm: '5.01' })[0]?.verdict)).toEqual(
      ['does-not-conform', 'conforms', 'conforms', 'does-not-conform'],
    );
  });
});

describe('slips', () => {
  const ordered = { thicknessMm: '5.00', widthMm: '383.0' };
  const thickness = requirement('thickness', { min: '-0.15', max: '0.15', limitOf: 'deviation' });
  const strength = requirement('Rm', { min: '480', max: '620' });

  test.each([
    [thickness, 'thickness', '0.1976', 'inches in a field of mm'], [thickness, 'thickness', '50.0', 'decimal point one place too far right'],
    [strength, 'Rm', '77', 'ksi in a field of MPa, or psi in a field of kPa'],
  ] as const)('%#: a value that looks like a slip is told so, and does not conform all the same', (one, code, printed, looksLike) => {
    expect(lines(one, [value(code, printed)], ABSOLUTE, ordered)).toMatchObject([{ verdict: 'does-not-conform', looksLike }]);
  });

  test('a plain failure looks like none, and nothing that conforms does', () => {
    expect(lines(strength, [value('Rm', '470'), value('Rm', '550')]).map(({ looksLike }) => looksLike)).toEqual([null, null]);
  });

  test('inside wide limits a value a tenth of the middle conforms, and looks like none', () => {
    expect(lines(requirement('Rm', { min: '10', max: '990' }), [value('Rm', '50')])).toMatchObject([{ verdict: 'conforms', looksLike: null }]);
  });

  test('limits with one side say nothing of what was expected', () => {
    expect(lines(requirement('C', { max: '0.12' }), [value('C', '8.5')])).toMatchObject([{ verdict: 'does-not-conform', looksLike: null }]);
  });
});
