import { describe, expect, test } from '@jest/globals';
import { checkScope, type EventVariable, scopeFindings, type ScopeItem } from './scope.js';

const THICKNESS: ScopeItem = { kind: 'range', name: 'thickness', min: '3', max: '12', unit: 'mm' };
const DIAMETER: ScopeItem = { kind: 'range', name: 'diameter', min: '25', max: null, unit: 'mm' };
const POSITION: ScopeItem = { kind: 'list', name: 'position', values: ['PA', 'PC'] };

const stated = (name: string, value: string, unit: string | null = null): EventVariable => ({ name, value, unit });
const found = (item: ScopeItem, ...variables: EventVariable[]) => scopeFindings([item], variables).map(({ finding, words }) => `${finding}: ${words}`);

describe('a range', () => {
  test.each(['3', '3.00', '12', '12.000', '6.5'])('%s mm is inside 3 to 12 mm, ends included', (value) => {
    expect(found(THICKNESS, stated('thickness', value, 'mm'))).toEqual([]);
  });

  test.each(['2.999999999999999999', '12.000000000000000001'])('%s mm is outside: compared exactly, not rounded', (value) => {
    expect(found(THICKNESS, stated('thickness', value, 'mm'))).toEqual([`outside: thickness ${value} mm is outside the scope: 3 to 12 mm`]);
  });

  test('inches are converted exactly', () => {
    expect(found({ ...THICKNESS, max: '12.7' }, stated('thickness', '0.5', 'in'))).toEqual([]);
    expect(found(THICKNESS, stated('thickness', '0.5', 'in'))).toEqual(['outside: thickness 0.5 in is outside the scope: 3 to 12 mm']);
  });

  test('with one end', () => {
    expect(found(DIAMETER, stated('diameter', '400', 'mm'))).toEqual([]);
    expect(found(DIAMETER, stated('diameter', '24', 'mm'))).toEqual(['outside: diameter 24 mm is outside the scope: at least 25 mm']);
    const most: ScopeItem = { ...DIAMETER, min: null, max: '500' };
    expect(found(most, stated('diameter', '501', 'mm'))).toEqual(['outside: diameter 501 mm is outside the scope: at most 500 mm']);
  });

  test.each([
    ['no unit', stated('thickness', '6')], ['another dimension', stated('thickness', '6', 'MPa')], ['no number', stated('thickness', '6,0', 'mm')],
    ['a bound that lets both be', stated('thickness', '>4', 'mm')],
  ])('%s cannot be compared, and is not in scope', (_what, variable) => {
    expect(scopeFindings([THICKNESS], [variable])).toMatchObject([{ name: 'thickness', finding: 'not-comparable' }]);
  });

  test('a bound is judged by all that it can be', () => {
    expect(found(DIAMETER, stated('diameter', '≥ 25', 'mm'))).toEqual([]);
    expect(scopeFindings([DIAMETER], [stated('diameter', '< 25', 'mm')])).toMatchObject([{ finding: 'outside' }]);
  });
});

describe('a list', () => {
  test('is letter for letter', () => {
    expect(found(POSITION, stated('position', 'PC'))).toEqual([]);
    expect(found(POSITION, stated('position', 'pc'))).toEqual(['outside: position pc is outside the scope: PA, PC']);
  });

  test('is not compared with a quantity', () => {
    expect(found(POSITION, stated('position', 'PA', 'mm'))).toEqual(['not-comparable: position PA mm cannot be compared with the scope: PA, PC']);
  });
});

describe('variables', () => {
  test('that the scope limits and the event does not state are not silently in scope', () => {
    expect(found(THICKNESS)).toEqual(['not-stated: thickness is not stated, and the scope limits it to 3 to 12 mm']);
    expect(found(POSITION, stated('thickness', '6', 'mm'))).toEqual(['not-stated: position is not stated, and the scope limits it to PA, PC']);
  });

  test('that the scope does not limit play no part', () => {
    expect(found(POSITION, stated('position', 'PA'), stated('weather', 'rain'))).toEqual([]);
  });

  test('are all judged, not only the first', () => {
    const findings = scopeFindings([THICKNESS, POSITION, DIAMETER], [stated('thickness', '2', 'mm'), stated('diameter', '30', 'mm')]);
    expect(findings.map(({ name, finding }) => [name, finding])).toEqual([['thickness', 'outside'], ['position', 'not-stated']]);
  });

  test('stated twice are refused', () => {
    expect(() => scopeFindings([], [stated('position', 'PA'), stated('position', 'PC')])).toThrow(new RangeError('the event states position twice'));
  });
});

describe('a scope is refused', () => {
  test.each<[string, ScopeItem[], Error]>([
    ['that limits a variable twice', [POSITION, { ...POSITION, values: ['PF'] }], new RangeError('the scope limits position twice')],
    ['that limits the method beside the methods', [{ ...POSITION, name: 'method' }], new RangeError('the scope limits method twice')],
    ['with an empty list', [{ ...POSITION, values: [] }], new RangeError('the scope lists no value of position')],
    ['with a range without ends', [{ ...DIAMETER, min: null }], new RangeError("the scope's range of diameter has no end")],
    ['with a reversed range', [{ ...THICKNESS, min: '13' }], new RangeError('limits are reversed: min 13, max 12')],
    ['with an end that is no number', [{ ...THICKNESS, min: '3,0' }], new SyntaxError('not a plain decimal: "3,0"')],
  ])('%s', (_what, scope, error) => {
    expect(() => { checkScope(scope); }).toThrow(error);
  });
});
