import { describe, expect, test } from '@jest/globals';
import type { PaperLine, PrintedValue } from '#libs/strip';
import { paperLine, printed } from '../evaluation/coil-knowledge.factory.js';
import { keyingDifferences, numbersIn, saysTheSame, valueText, type Keying } from './keying-comparison.js';

const keying = (lines: PaperLine[], changes: Partial<Keying> = {}): Keying => ({ orderNumber: 'PO-1187', specification: 'STS-12 rev 4', lines, ...changes });
const differences = (first: PaperLine[], second: PaperLine[]): ReturnType<typeof keyingDifferences> => keyingDifferences(keying(first), keying(second));
const one = (value: Partial<PrintedValue>): PaperLine[] => [paperLine({ values: [printed(value)] })];
const manganese = printed({ characteristic: 'Mn', printed: '1.21' });

describe('two keyings', () => {
  test('that say the same do not differ, whatever the order of lines and values', () => {
    const first = [paperLine({ coilNumber: 'LM-01' }), paperLine({ values: [printed(), manganese] }), paperLine({ coilNumber: null })];
    expect(differences(first, first)).toEqual([]);
    expect(differences(first, [paperLine({ coilNumber: null }), paperLine({ values: [manganese, printed()] }), paperLine({ coilNumber: 'LM-01' })])).toEqual([]);
  });

  test.each<[string, Partial<PrintedValue>, Partial<PrintedValue>, string, string]>([
    ['digits', { printed: '0.085' }, { printed: '0.058' }, '0.085 %', '0.058 %'],
    ['digits after the last that counts', { printed: '0.10' }, { printed: '0.1' }, '0.10 %', '0.1 %'],
    ['a sign', { printed: '<0.001' }, { printed: '0.001' }, '<0.001 %', '0.001 %'],
    ['the unit', {}, { unit: 'ppm' }, '0.085 %', '0.085 ppm'],
    ['the multiplier', { multiplier: '1000' }, {}, '0.085 % (printed ×1000)', '0.085 %'],
    ['the uncertainty', {}, { expandedU: '0.005' }, '0.085 %', '0.085 %, U 0.005'],
  ])('differ in %s', (_, first, second, said, saidThen) => {
    expect(differences(one(first), one(second))).toEqual([{ where: 'coil LM-02: C, heat analysis', first: said, second: saidThen }]);
  });

  test('of a value under other conditions are two values, each keyed by one', () => {
    expect(differences(one({ analysis: 'heat' }), one({ analysis: 'product' }))).toEqual([
      { where: 'coil LM-02: C, heat analysis', first: '0.085 %', second: null }, { where: 'coil LM-02: C, product analysis', first: null, second: '0.085 %' },
    ]);
    const impact = { characteristic: 'KV2', analysis: null, printed: '96', unit: 'J' } as const;
    expect(differences(one({ ...impact, temperatureC: '-20' }), one({ ...impact, temperatureC: '-40' })).map(({ where }) => where)).toEqual(['coil LM-02: KV2 at -20 °C', 'coil LM-02: KV2 at -40 °C']);
    expect(differences(one({ location: 'head', direction: 'L' }), one({ location: 'head' })).map(({ where }) => where)).toEqual(['coil LM-02: C, heat analysis (head, L)', 'coil LM-02: C, heat analysis (head)']);
  });

  test('of which one lacks a value or a line', () => {
    expect(differences([paperLine({ values: [printed(), manganese] })], [paperLine()])).toEqual([{ where: 'coil LM-02: Mn, heat analysis', first: '1.21 %', second: null }]);
    expect(differences([paperLine()], [paperLine(), paperLine({ coilNumber: null })])).toEqual([{ where: 'heat H40711', first: null, second: 'keyed' }]);
  });

  test('of a number, also in its writing, and of the heat of a coil', () => {
    expect(differences([paperLine()], [paperLine({ coilNumber: 'LM-O2' })])).toEqual([{ where: 'coil LM-02', first: 'keyed', second: null }, { where: 'coil LM-O2', first: null, second: 'keyed' }]);
    expect(differences([paperLine()], [paperLine({ coilNumber: 'lm-02' })])).toHaveLength(2);
    expect(differences([paperLine()], [paperLine({ heatNumber: 'H40117' })])).toEqual([{ where: 'coil LM-02: heat number', first: 'H40711', second: 'H40117' }]);
    expect(differences([paperLine()], [paperLine({ heatNumber: null })])).toEqual([{ where: 'coil LM-02: heat number', first: 'H40711', second: null }]);
  });

  test('of a paper that says a line or a value again keep each', () => {
    const twice = [paperLine(), paperLine({ values: [printed({ printed: '0.091' })] })];
    expect(differences(twice, twice)).toEqual([]);
    expect(differences(twice, [paperLine(), paperLine()])).toEqual([{ where: 'coil LM-02 (2): C, heat analysis', first: '0.091 %', second: '0.085 %' }]);
    expect(differences(twice, [paperLine()])).toEqual([{ where: 'coil LM-02 (2)', first: 'keyed', second: null }]);
    const inOne = (digits: string): PaperLine[] => [paperLine({ values: [printed(), printed({ printed: digits })] })];
    expect(differences(inOne('0.086'), inOne('0.087'))).toEqual([{ where: 'coil LM-02: C, heat analysis (2)', first: '0.086 %', second: '0.087 %' }]);
  });

  test('differ in the order number and the specification first', () => {
    expect(keyingDifferences(keying(one({})), keying(one({ printed: '0.058' }), { orderNumber: 'PO-1178', specification: null })).map(({ where, first, second }) => [where, first, second])).toEqual([
      ['order number', 'PO-1187', 'PO-1178'], ['specification', 'STS-12 rev 4', null], ['coil LM-02: C, heat analysis', '0.085 %', '0.058 %'],
    ]);
  });
});

describe('a value', () => {
  test('is the same under a multiplier that is written with its decimals', () => {
    expect(saysTheSame(printed({ multiplier: '100' }), printed({ multiplier: '100.0' }))).toBe(true);
    expect(saysTheSame(printed({ multiplier: '100' }), printed({ multiplier: '10' }))).toBe(false);
  });

  test('is told as it was keyed', () => {
    expect(valueText(printed({ printed: '<5', multiplier: '1000', expandedU: '0.2' }))).toBe('<5 % (printed ×1000), U 0.2');
  });
});

describe('the numbers of a paper', () => {
  test('are found by their normal form, each once', () => {
    const lines = [paperLine({ coilNumber: 'lm-02' }), paperLine({ coilNumber: 'LM 2' }), paperLine({ coilNumber: null, heatNumber: 'H-40711' }), paperLine({ coilNumber: 'LM-3', heatNumber: null })];
    expect(numbersIn(lines, 'coilNumber')).toEqual(['LM2', 'LM3']);
    expect(numbersIn(lines, 'heatNumber')).toEqual(['H40711']);
  });
});
