import { describe, expect, test } from '@jest/globals';
import { evaluator } from '#libs/strip';
import { ABSOLUTE, evaluate, GUARDED, lines, on, requirement, ROUNDING, value } from './evaluation.factory.js';

const CARBON = requirement('C', { max: '0.12', clause: '4.1' });
const YIELD = requirement('ReH', { min: '420' });

describe('a value beside its limit', () => {
  test('is told with limit, margin, rule and source', () => {
    expect(evaluate([CARBON], [value('C', '0.085')], { conformity: ROUNDING })).toEqual({
      verdict: 'conforms',
      lines: [{
        requirement: 0, name: 'C, heat analysis', limits: 'at most 0.12 %', limitsFrom: 'clause 4.1', printed: '0.085 %',
        source: { label: 'certificate C-1', record: null }, verdict: 'conforms', compared: '0.08', margin: '0.04', nearest: 'max', unit: '%',
        conformanceProbability: null, reason: null, looksLike: null,
        rule: 'ASTM E29 rounding method: the value is rounded half to even to 2 decimals, the last digit of the limit, then compared; it conforms at most 0.12 %, limits included (simple acceptance, JCGM 106 8.2).',
      }],
    });
  });

  test.each([
    // The rounding method rounds half to even: 0.125 to 0.12, 0.1251 to 0.13.
    ['0.12', 'conforms', 'conforms'], ['0.1200', 'conforms', 'conforms'], ['0.1201', 'does-not-conform', 'conforms'],
    ['0.125', 'does-not-conform', 'conforms'], ['0.1251', 'does-not-conform', 'does-not-conform'], ['0.13', 'does-not-conform', 'does-not-conform'],
  ])('%s %% against at most 0.12 %%: %s unrounded, %s rounded', (printed, absolute, rounded) => {
    expect(lines(CARBON, [value('C', printed)], ABSOLUTE)[0]?.verdict).toBe(absolute);
    expect(lines(CARBON, [value('C', printed)], ROUNDING)[0]?.verdict).toBe(rounded);
  });

  test.each([
    ['420', 'conforms', 'conforms'], ['419.9', 'does-not-conform', 'conforms'], ['419.5', 'does-not-conform', 'conforms'],
    ['419.4', 'does-not-conform', 'does-not-conform'], ['419', 'does-not-conform', 'does-not-conform'],
  ])('%s MPa against at least 420 MPa: %s unrounded, %s rounded', (printed, absolute, rounded) => {
    expect(lines(YIELD, [value('ReH', printed)], ABSOLUTE)[0]?.verdict).toBe(absolute);
    expect(lines(YIELD, [value('ReH', printed)], ROUNDING)[0]?.verdict).toBe(rounded);
  });

  test.each([
    ['0.115', 'conforms'], ['0.1151', 'inside-guard-band'], ['0.12', 'inside-guard-band'], ['0.1201', 'does-not-conform'],
  ])('%s %% with U 0.005 and a guard band: %s', (printed, verdict) => {
    expect(lines({ ...CARBON, expandedU: '0.005' }, [value('C', printed)], GUARDED)[0]?.verdict).toBe(verdict);
  });

  test('the uncertainty that a value states goes before that of the requirement, and without any nothing is clean', () => {
    const stated = value('C', '0.117', { expandedU: '0.002' });
    expect(lines({ ...CARBON, expandedU: '0.005' }, [stated], GUARDED)[0]).toMatchObject({ verdict: 'conforms', printed: '0.117 % (U 0.002)' });
    expect(lines(CARBON, [value('C', '0.05')], GUARDED)[0]).toMatchObject({ verdict: 'not-comparable', reason: expect.stringContaining('uncertainty of the value is missing') });
  });

  test.each([
    ['<0.001', 'at most 0.12', 'conforms'], ['<0.12', 'at most 0.12', 'conforms'], ['<0.13', 'at most 0.12', 'not-comparable'],
    ['≥0.12', 'at most 0.12', 'not-comparable'], ['>0.12', 'at most 0.12', 'does-not-conform'],
  ])('%s %% against %s %%: %s', (printed, _limits, verdict) => {
    expect(lines(CARBON, [value('C', printed)])[0]?.verdict).toBe(verdict);
  });

  test.each([
    ['ReH', '61', 'ksi', '1', 'conforms', '420.580'], ['ReH', '60.9', 'ksi', '1', 'does-not-conform', '419.891'],
    ['ReH', '420', 'N/mm2', '1', 'conforms', '420'], ['C', '1200', 'ppm', '1', 'conforms', '0.12'], ['C', '1201', 'ppm', '1', 'does-not-conform', '0.1201'],
    ['C', '12.0', '%', '100', 'conforms', '0.120'], ['C', '12.1', '%', '100', 'does-not-conform', '0.121'],
  ] as const)('%s printed as %s %s, ×%s: %s, compared as %s', (code, printed, unit, multiplier, verdict, compared) => {
    // 1 ksi = 6.894757293168… MPa: 61 ksi = 420.5801948832…, 60.9 ksi = 419.8907191539… MPa.
    const [line] = lines(code === 'C' ? CARBON : YIELD, [value(code, printed, { unit, multiplier })]);
    expect(line).toMatchObject({ verdict, compared });
  });

  test.each(['0,085', 'n/a', '', '0.0 85'])('%j cannot be read, and is never clean', (printed) => {
    for (const one of [CARBON, requirement('C')]) expect(lines(one, [value('C', printed)])[0]?.verdict).toBe('not-comparable');
  });

  test('what is only asked to be reported is clean once it is', () => {
    expect(lines(requirement('C'), [value('C', '0.9')])).toMatchObject([{ verdict: 'conforms', limits: 'report only', rule: 'report only', margin: null }]);
    expect(lines(requirement('C'), [])).toMatchObject([{ verdict: 'not-reported', printed: null }]);
  });

  test('in doubt it is held against no limit, even where both readings would conform', () => {
    const doubt = 'the two keyings differ: 0.085 % against 0.058 %';
    expect(lines(CARBON, [value('C', '0.085', { doubt })])).toMatchObject([
      { verdict: 'not-comparable', reason: doubt, printed: '0.085 %', compared: null, margin: null, rule: 'not held against the limits' },
    ]);
    expect(lines(requirement('C'), [value('C', '0.085', { doubt })])).toMatchObject([{ verdict: 'not-comparable', reason: doubt }]);
  });
});

describe('several values of one requirement', () => {
  test('are all shown, in the order given, and the worst decides', () => {
    const values = [value('C', '0.085'), ...on('certificate C-2', [value('C', '0.13')]), ...on('certificate C-3', [value('C', '0.085')])];
    const found = evaluate([CARBON], values);
    expect(found.lines.map(({ printed, source, verdict }) => [printed, source?.label, verdict])).toEqual([
      ['0.085 %', 'certificate C-1', 'conforms'], ['0.13 %', 'certificate C-2', 'does-not-conform'], ['0.085 %', 'certificate C-3', 'conforms'],
    ]);
    expect(found.verdict).toBe('does-not-conform');
  });

  test('one in doubt leaves the whole open, and a failing one fails it all the same', () => {
    const doubtful = value('C', '0.085', { doubt: 'the two keyings differ' });
    expect(evaluate([CARBON], [value('C', '0.085'), doubtful]).verdict).toBe('not-comparable');
    expect(evaluate([CARBON], [value('C', '0.13'), doubtful]).verdict).toBe('does-not-conform');
  });

  test('an analysis of the product is no analysis of the heat', () => {
    const both = [CARBON, requirement('C', { analysis: 'product', max: '0.14' })];
    const found = evaluate(both, [value('C', '0.11'), value('C', '0.13', { analysis: 'product' })]);
    expect(found.lines.map(({ requirement: place, name, printed, verdict }) => [place, name, printed, verdict])).toEqual([
      [0, 'C, heat analysis', '0.11 %', 'conforms'], [1, 'C, product analysis', '0.13 %', 'conforms'],
    ]);
  });
});

describe('what is not reported', () => {
  const reasons = (...given: Parameters<typeof lines>) => lines(...given).map(({ verdict, printed, reason }) => [verdict, printed, reason]);

  test('is never clean', () => {
    const absent = ['not-reported', null, 'ReH is asked for and was not reported'];
    expect(reasons(YIELD, [])).toEqual([absent]);
    expect(reasons(YIELD, [value('Rm', '530'), value('A', '22')])).toEqual([absent]);
    expect(evaluate([CARBON, YIELD], [value('C', '0.085')]).verdict).toBe('not-reported');
  });

  test.each([
    ['ReH', 'Rp0.2', '450', '450 MPa'], ['A', 'A80mm', '22', '22 %'], ['HV10', 'HBW', '180', '180 HBW'],
  ])('%s asked and %s reported: named, and not taken for it', (asked, reported, printed, shown) => {
    expect(reasons(requirement(asked, { min: '1' }), [value(reported, printed)])).toEqual([
      ['not-comparable', shown, `${asked} is asked for; reported is ${reported}, which is a different quantity`],
    ]);
  });

  test('the other analysis is named, with its doubt', () => {
    const product = value('C', '0.11', { analysis: 'product' });
    expect(reasons(CARBON, [product])).toEqual([['not-comparable', '0.11 %', 'C, heat analysis is asked for; reported is C, product analysis']]);
    expect(reasons(CARBON, [{ ...product, doubt: 'the two keyings differ' }])).toEqual([
      ['not-comparable', '0.11 %', 'C, heat analysis is asked for; reported is C, product analysis; the two keyings differ'],
    ]);
  });

  test('all that comes near is named, and nothing once the value itself is there', () => {
    const near = [value('Rp0.2', '450'), value('Rt0.5', '455')];
    expect(lines(YIELD, near).map(({ printed }) => printed)).toEqual(['450 MPa', '455 MPa']);
    expect(lines(YIELD, [...near, value('ReH', '460')]).map(({ printed }) => printed)).toEqual(['460 MPa']);
  });

  test('a value in an unit of something else is not comparable', () => {
    expect(lines(YIELD, [value('ReH', '450', { unit: 'mm' })])).toMatchObject([{ verdict: 'not-comparable', reason: expect.stringContaining('they are not comparable') }]);
  });
});

describe('the whole', () => {
  test('keeps the order of the requirements, and tells which each line belongs to', () => {
    const found = evaluate([YIELD, CARBON], [value('C', '0.085'), value('ReH', '450')]);
    expect(found.lines.map(({ requirement: place, name }) => [place, name])).toEqual([[0, 'ReH'], [1, 'C, heat analysis']]);
    expect(found.verdict).toBe('conforms');
  });

  test('nothing asked for is no evaluation', () => {
    expect(() => evaluate([], [value('C', '0.085')])).toThrow(new RangeError('there is no verdict to take the worst of'));
  });

  test('a requirement that says nothing sensible is refused before any value', () => {
    const refused = (overrides: object) => () => evaluator({ requirements: [{ ...CARBON, ...overrides }], ownTables: [], conformity: ABSOLUTE }, null);
    expect(refused({ max: '0,12' })).toThrow(SyntaxError);
    expect(refused({ min: '0.13' })).toThrow(RangeError);
    expect(refused({ expandedU: '-0.005' })).toThrow(RangeError);
  });

  test('the same value object gives the same line again, on other papers too', () => {
    const judgeAll = evaluator({ requirements: [CARBON, YIELD], ownTables: [], conformity: ABSOLUTE }, null);
    const carbon = value('C', '0.13');
    const first = judgeAll([carbon, value('ReH', '450')]);
    const second = judgeAll([value('ReH', '410'), carbon]);
    expect(second.lines[0]).toBe(first.lines[0]);
    expect(second.lines[1]).toMatchObject({ printed: '410 MPa', verdict: 'does-not-conform' });
  });
});
