import { describe, expect, test } from '@jest/globals';
import { evaluator, type SourcedValue } from '#libs/strip';
import { coilKnowledge, receiptRow, requirement, sourced } from './coil-knowledge.factory.js';
import type { CoilKnowledge } from './coil-knowledge.js';
import { equivalentChecks, receiptChecks, slipChecks } from './value-checks.js';

/** CE(IIW) = C + Mn/6 + (Cr + Mo + V)/5 + (Ni + Cu)/15 = 0.08 + 0.20 + 0 + 0.02 = 0.30 %. */
const ANALYSIS = [['C', '0.08'], ['Mn', '1.20'], ['Cr', '0'], ['Mo', '0'], ['V', '0'], ['Ni', '0.15'], ['Cu', '0.15']]
  .map(([characteristic = '', digits = '']) => sourced({ characteristic, printed: digits }));

const printedAs = (digits: string, changes: Partial<SourcedValue> = {}, analysis: readonly SourcedValue[] = ANALYSIS): string[] =>
  equivalentChecks([...analysis, sourced({ characteristic: 'CE(IIW)', printed: digits, ...changes })]).map(({ detail }) => detail);

describe('a printed carbon equivalent', () => {
  test('may differ by 0.01 % from the one recomputed, and no more', () => {
    for (const digits of ['0.30', '0.31', '0.29']) expect(printedAs(digits)).toEqual([]);
    expect(printedAs('0.311')).toEqual(['CE(IIW) is printed as 0.311 % on certificate TS-1 (3.1), line 1; recomputed it is 0.3000 %']);
    expect(printedAs('0.289')).toHaveLength(1);
  });

  test('in ppm or under a multiplier is the same number', () => {
    expect(printedAs('3000', { unit: 'ppm' })).toEqual([]);
    expect(printedAs('3200', { unit: 'ppm' })).toHaveLength(1);
    expect(printedAs('30', { multiplier: '100' })).toEqual([]);
  });

  test('known only to a bound disagrees when no value could be both', () => {
    expect(printedAs('<0.45')).toEqual([]);
    expect(printedAs('<0.29')).toEqual([]);
    expect(printedAs('<0.28')).toHaveLength(1);
    expect(printedAs('>0.32')).toHaveLength(1);
  });

  test('with elements not reported can only be too low', () => {
    const without = ANALYSIS.filter(({ characteristic }) => characteristic !== 'Cu');
    expect(printedAs('0.45', {}, without)).toEqual([]);
    // Without copper at least 0.29 %.
    expect(printedAs('0.28', {}, without)).toEqual([]);
    expect(printedAs('0.279', {}, without)).toHaveLength(1);
  });

  test('belongs to its own analysis, and is left alone when keyed twice differently', () => {
    expect(printedAs('0.45', { analysis: 'product' })).toEqual([]);
    expect(printedAs('0.45', { doubt: 'the two keyings differ' })).toEqual([]);
    expect(printedAs('0,45')).toEqual([]);
  });

  test('of each of several papers is held against the analysis of that paper', () => {
    const ofOther = (one: SourcedValue): SourcedValue => ({ ...one, source: { label: 'certificate TS-2 (3.1), line 1', record: null } });
    const richer = ANALYSIS.map((one) => ofOther(one.characteristic === 'C' ? { ...one, printed: '0.185' } : one));
    const equivalent = (printed: string): SourcedValue => sourced({ characteristic: 'CE(IIW)', printed });
    expect(equivalentChecks([...ANALYSIS, ...richer, equivalent('0.30'), ofOther(equivalent('0.40'))])).toEqual([]);
    expect(equivalentChecks([...ANALYSIS, ...richer, equivalent('0.40'), ofOther(equivalent('0.30'))])).toHaveLength(2);
  });

  test('is told with the record it was taken from', () => {
    const record = { kind: 'certificate-transcription', id: 'keying', version: 1 };
    expect(equivalentChecks([...ANALYSIS, sourced({ characteristic: 'CE(IIW)', printed: '0.45', source: { label: 'x', record } })])).toMatchObject([{ severity: 'warning', check: 'carbon equivalent', records: [record] }]);
  });
});

describe('a slip', () => {
  const rules = { requirements: [requirement({ min: '0.06', max: '0.12' })], ownTables: [], conformity: { rounding: 'absolute', decision: 'simple-acceptance', guardFactor: '1' } } as const;

  test('is told of a value that does not conform, which still does not', () => {
    const { verdict, lines } = evaluator(rules, null)([sourced({ printed: '0.85' })]);
    expect(verdict).toBe('does-not-conform');
    expect(slipChecks(lines)).toMatchObject([{ severity: 'warning', check: 'slip', detail: 'C, heat analysis 0.85 % (certificate TS-1 (3.1), line 1) looks like decimal point one place too far right', records: [] }]);
  });

  test('is not seen in what conforms or is just wrong', () => {
    for (const digits of ['0.09', '0.13']) expect(slipChecks(evaluator(rules, null)([sourced({ printed: digits })]).lines)).toEqual([]);
  });
});

describe('a receipt', () => {
  const details = (...receipts: CoilKnowledge['receipts']): string[] => receiptChecks(coilKnowledge({ receipts })).map(({ detail }) => detail);

  test('whose tag names coil and heat says nothing; a heat that was not read neither', () => {
    expect(details(receiptRow(), receiptRow({ tagHeatNumber: null }), receiptRow({ tagNumber: 'lm-02' }))).toEqual([]);
  });

  test('missing is a note', () => {
    expect(receiptChecks(coilKnowledge({ receipts: [] }))).toMatchObject([{ severity: 'note', check: 'tag', detail: 'coil LM-02 was not received: no tag was read, nothing weighed' }]);
  });

  test('whose tag names another coil or heat is told, a near number as one', () => {
    expect(details(receiptRow({ tagNumber: 'LM-O2' }))).toEqual(['the tag says coil LM-O2; on record is LM-02: nearly the same (letters and digits that look alike)']);
    expect(details(receiptRow({ tagNumber: 'D-71', tagHeatNumber: 'H40712' }))).toEqual([
      'the tag says coil D-71; on record is LM-02: another coil', 'the tag says heat H40712; on record is H40711: nearly the same (one digit different)',
    ]);
  });

  test('of a coil that is not sound says what is wrong, each time it came in', () => {
    expect(receiptChecks(coilKnowledge({ receipts: [receiptRow({ condition: 'wet', damage: 'Rain through the cover.' }), receiptRow({ occasion: 'back-from-line', condition: 'unbanded', damage: 'Bands cut.' })] })))
      .toMatchObject([{ check: 'condition', detail: 'received wet: Rain through the cover.' }, { check: 'condition', detail: 'received unbanded: Bands cut.' }]);
  });
});
