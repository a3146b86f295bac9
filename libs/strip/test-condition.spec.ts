import { describe, expect, test } from '@jest/globals';
import type { SourcedValue } from '#libs/strip';
import { requirement, value } from './evaluation.factory.js';
import { easierWords, testCondition, valuesAsAsked } from './test-condition.js';

const impact = requirement('KV2', { min: '40', temperatureC: '-20' });
const camber = requirement('camber', { max: '3', baseMm: '2000' });
const tested = (temperatureC: string | null) => value('KV2', '60', { temperatureC });
const over = (baseMm: string | null) => value('camber', '2', { baseMm });

describe('testCondition', () => {
  test.each([
    ['-20', 'as-asked', null], ['-20.0', 'as-asked', null],
    ['-20.1', 'harder', 'tested at -20.1 °C, colder than the -20 °C asked for'],
    [null, 'not-stated', 'no test temperature is stated; asked for is -20 °C'],
  ])('an impact test at %s °C: %s', (temperatureC, kind, words) => {
    expect(testCondition(impact, tested(temperatureC))).toEqual({ kind, words });
  });

  test('warmer is easier', () => {
    expect(testCondition(impact, tested('-19.9'))).toEqual({
      kind: 'easier', words: 'tested at -19.9 °C, warmer than the -20 °C asked for', shortWords: 'falls short even at -19.9 °C, warmer than the -20 °C asked for',
    });
  });

  test('colder is harder, and warmer easier, only for a least energy', () => {
    for (const limits of [{ max: '200' }, { min: null, max: '200' }, { min: null }]) {
      expect(testCondition({ ...impact, ...limits }, tested('-40'))).toEqual({ kind: 'other', words: 'tested at -40 °C, colder than the -20 °C asked for' });
      expect(testCondition({ ...impact, ...limits }, tested('0'))).toEqual({ kind: 'other', words: 'tested at 0 °C, warmer than the -20 °C asked for' });
    }
  });

  test.each([
    ['2000', 'as-asked', null], ['2000.0', 'as-asked', null],
    ['5000', 'other', 'measured over 5000 mm; the limit is over 2000 mm'], ['1999', 'other', 'measured over 1999 mm; the limit is over 2000 mm'],
    [null, 'not-stated', 'no base length is stated; asked for is 2000 mm'],
  ])('a camber over %s mm: %s', (baseMm, kind, words) => {
    expect(testCondition(camber, over(baseMm))).toEqual({ kind, words });
  });

  test('what asks for no condition takes any, and text that is no number is refused', () => {
    expect(testCondition(requirement('ReH', { min: '420' }), value('ReH', '450', { temperatureC: '200' })).kind).toBe('as-asked');
    expect(() => testCondition(impact, tested('room'))).toThrow(SyntaxError);
  });
});

describe('easierWords', () => {
  const condition = { kind: 'easier', words: 'tested warmer', shortWords: 'falls short even warmer' } as const;

  test.each([
    ['0', 'in the guard band', 'tested warmer'], ['20', null, 'tested warmer'], ['-0.1', 'no U', 'falls short even warmer'],
    [null, 'not readable', 'tested warmer; not readable'], [null, null, 'tested warmer'],
  ])('with a margin of %s, %s: %s', (margin, reason, words) => {
    expect(easierWords(condition, { margin, reason })).toBe(words);
  });
});

describe('valuesAsAsked', () => {
  const nothing = (): boolean => false;
  const [asked, colder, warmer, unstated] = [tested('-20'), tested('-40'), tested('0'), tested(null)];

  test.each([
    ['tests as asked before all others', [warmer, asked, colder], [asked]],
    ['harder ones before easier ones', [warmer, colder], [colder]],
    ['easier ones where there is nothing better', [warmer, tested('20')], [warmer, tested('20')]],
    ['those of which nothing is stated always', [unstated, asked, warmer], [unstated, asked]],
    ['the same beside harder ones', [colder, unstated, warmer], [colder, unstated]],
  ])('%s', (_what, given, kept) => {
    expect(valuesAsAsked(impact, given, nothing)).toEqual(kept);
  });

  test('what is against the strip though taken otherwise, in its place', () => {
    const isWarm = ({ temperatureC }: SourcedValue): boolean => temperatureC === '0';
    expect(valuesAsAsked(impact, [warmer, asked, colder], isWarm)).toEqual([warmer, asked]);
    expect(valuesAsAsked(impact, [colder, tested('20'), warmer], isWarm)).toEqual([colder, warmer]);
    const kinds: string[] = [];
    valuesAsAsked(impact, [asked, colder, unstated, warmer], (_value, { kind }) => kinds.push(kind) === 0);
    expect(kinds).toEqual(['harder', 'easier']);
  });

  test('cambers over the base length asked for', () => {
    expect(valuesAsAsked(camber, [over('5000'), over('2000'), over(null)], nothing)).toEqual([over('2000'), over(null)]);
    expect(valuesAsAsked(camber, [over('5000'), over('1000')], nothing)).toEqual([over('5000'), over('1000')]);
  });

  test('all of them where no condition is asked for', () => {
    const values = [value('ReH', '450'), value('ReH', '430', { temperatureC: '200' })];
    expect(valuesAsAsked(requirement('ReH'), values, nothing)).toEqual(values);
  });
});
