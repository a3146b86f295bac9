import { describe, expect, test } from '@jest/globals';
import { evaluator, type SourcedValue } from '#libs/strip';
import { ABSOLUTE, analysis, evaluate, GUARDED, lines, on, requirement, ROUNDING, value } from './evaluation.factory.js';

/** CE(IIW) is 0.39 by hand: see element-sum.spec.ts. */
const WITHOUT_V = { C: '0.12', Mn: '1.2', Cr: '0.1', Mo: '0.05', Ni: '0.3', Cu: '0.15' };
const FULL = { ...WITHOUT_V, V: '0.05' };
const equivalent = (max: string | null) => requirement('CE(IIW)', { max });
const told = (...given: Parameters<typeof lines>) => lines(...given).map(({ printed, verdict }) => [printed, verdict]);

describe('carbon equivalents against a limit', () => {
  test.each([['0.39', 'conforms', '0'], ['0.389', 'does-not-conform', '-0.001'], ['0.391', 'conforms', '0.001']])('recomputed as 0.39 against at most %s: %s', (max, verdict, margin) => {
    expect(lines(equivalent(max), analysis(FULL))).toMatchObject([{ verdict, margin, printed: '0.3900 %' }]);
  });

  test('with an element that nobody reports it never conforms, and fails once it is above already', () => {
    const values = analysis(WITHOUT_V);
    expect(lines(equivalent('0.37'), values)).toMatchObject([{ verdict: 'does-not-conform', compared: '≥ 0.3800', margin: '-0.01', reason: 'not reported, and not taken for zero: V' }]);
    for (const max of ['0.38', '0.39', '1.40']) expect(lines(equivalent(max), values)).toMatchObject([{ verdict: 'not-comparable', reason: expect.stringContaining('not taken for zero: V') }]);
  });

  test('with an element below its limit of detection it conforms when all that it can be does', () => {
    const values = analysis({ ...FULL, V: '<0.005' });
    expect(lines(equivalent('0.381'), values)[0]?.verdict).toBe('conforms');
    expect(lines(equivalent('0.3809'), values)[0]?.verdict).toBe('not-comparable');
    expect(lines(equivalent('0.38'), values)[0]?.verdict).toBe('not-comparable');
    expect(lines(equivalent('0.3799'), values)[0]?.verdict).toBe('does-not-conform');
  });

  test('takes the uncertainty of the requirement for its guard band', () => {
    const guarded = (max: string) => lines({ ...equivalent(max), expandedU: '0.02' }, analysis(FULL), GUARDED)[0]?.verdict;
    expect([guarded('0.41'), guarded('0.409'), guarded('0.39'), guarded('0.389')]).toEqual(['conforms', 'inside-guard-band', 'inside-guard-band', 'does-not-conform']);
  });

  test('is rounded once, from its exact value: 0.394 to 0.39, 0.396 to 0.40', () => {
    expect(lines(equivalent('0.39'), analysis({ ...FULL, C: '0.124' }), ROUNDING)[0]).toMatchObject({ verdict: 'conforms', compared: '0.39' });
    expect(lines(equivalent('0.39'), analysis({ ...FULL, C: '0.126' }), ROUNDING)[0]).toMatchObject({ verdict: 'does-not-conform', compared: '0.40' });
  });

  test('a paper that fails is not softened by another that disagrees', () => {
    const values = [...analysis({ ...FULL, C: '0.16' }), ...on('certificate C-2', analysis(FULL))];
    expect(told(equivalent('0.42'), values)).toEqual([['0.4300 %', 'does-not-conform'], ['0.3900 %', 'conforms']]);
  });

  test('a retest of one element counts with the rest of the first analysis', () => {
    const values = [...analysis(FULL), ...on('certificate C-2', [value('C', '0.16')])];
    expect(told(equivalent('0.42'), values)).toEqual([['0.3900 %', 'conforms'], ['0.4300 %', 'does-not-conform']]);
  });

  test('with an element in doubt it is open, unless the others are too much already', () => {
    const doubtful = [...analysis(WITHOUT_V), value('V', '0.05', { doubt: 'the two keyings differ' })];
    expect(lines(equivalent('0.43'), doubtful)).toMatchObject([{ verdict: 'not-comparable', reason: expect.stringContaining('in doubt or not readable: V') }]);
    expect(lines(equivalent('0.37'), doubtful)[0]?.verdict).toBe('does-not-conform');
    // A second paper without the doubt does not remove it.
    expect(evaluate([equivalent('0.43')], [...doubtful, ...on('certificate C-2', analysis(FULL))]).verdict).toBe('not-comparable');
  });

  test('of the heat does not follow from the product', () => {
    const product = analysis(FULL).map((one) => ({ ...one, analysis: 'product' as const }));
    expect(lines(equivalent('0.43'), product)).toMatchObject([{ verdict: 'not-reported' }]);
    expect(lines(requirement('CE(IIW)', { max: '0.43', analysis: 'product' }), product)[0]?.verdict).toBe('conforms');
  });

  test('only asked for it is reported when it is printed, or follows outright; known from below it is not', () => {
    expect(lines(equivalent(null), analysis(FULL))[0]?.verdict).toBe('conforms');
    expect(lines(equivalent(null), analysis(WITHOUT_V))).toMatchObject([{ verdict: 'not-comparable', reason: 'not reported, and not taken for zero: V', printed: 'at least 0.3800 %' }]);
    expect(lines(equivalent(null), [value('CE(IIW)', '0.38')])[0]?.verdict).toBe('conforms');
  });
});

describe('what is printed and follows as well', () => {
  test('is shown both ways, and the worse decides', () => {
    const printed = value('CE(IIW)', '0.36');
    expect(told(equivalent('0.38'), [printed, ...analysis(FULL)])).toEqual([['0.36 %', 'conforms'], ['0.3900 %', 'does-not-conform']]);
    expect(evaluate([equivalent('0.38')], [printed, ...analysis(FULL)]).verdict).toBe('does-not-conform');
  });

  test('is not made open by elements that the paper leaves out', () => {
    const printed = value('CE(IIW)', '0.385');
    expect(told(equivalent('0.43'), [printed, ...analysis(WITHOUT_V)])).toEqual([['0.385 %', 'conforms']]);
    expect(told(equivalent('0.37'), [value('CE(IIW)', '0.36'), ...analysis(WITHOUT_V)])).toEqual([['0.36 %', 'conforms'], ['at least 0.3800 %', 'does-not-conform']]);
  });

  test('stays open where an element is in doubt', () => {
    const doubtful = analysis(FULL).map((one) => (one.characteristic === 'V' ? { ...one, doubt: 'the two keyings differ' } : one));
    expect(told(equivalent('0.43'), [value('CE(IIW)', '0.385'), ...doubtful])).toEqual([['0.385 %', 'conforms'], ['at least 0.3800 %', 'not-comparable']]);
  });

  test.each([
    ['in doubt', { printed: '1.5', doubt: 'the two keyings differ' }], ['not readable', { printed: '1,5' }], ['in an unit of something else', { printed: '1.5', unit: 'mm' }],
  ] as const)('stays open where an element is %s and the rest is not reported', (_what, overrides) => {
    const values = [value('CE(IIW)', '0.40'), value('C', '0.20'), value('Mn', '1.5', overrides)];
    expect(told(equivalent('0.43'), values)).toEqual([['0.40 %', 'conforms'], ['at least 0.2000 %', 'not-comparable']]);
    expect(lines(equivalent('0.43'), values)[1]?.reason).toContain('not reported, and not taken for zero: Cr, Mo, V, Ni, Cu; in doubt or not readable: Mn');
    expect(told(requirement('Nb+V', { max: '0.10' }), [value('Nb+V', '0.09'), value('Nb', '0.04', overrides)])).toEqual([['0.09 %', 'conforms'], ['at least 0.0000 %', 'not-comparable']]);
  });

  test('a sum of elements: printed alone, with one element, with both', () => {
    const sum = requirement('Nb+V', { max: '0.10' });
    const printed = value('Nb+V', '0.09');
    expect(told(sum, [printed])).toEqual([['0.09 %', 'conforms']]);
    expect(told(sum, [printed, value('Nb', '0.04')])).toEqual([['0.09 %', 'conforms']]);
    expect(told(sum, [printed, value('Nb', '0.11')])).toEqual([['0.09 %', 'conforms'], ['at least 0.1100 %', 'does-not-conform']]);
    expect(told(sum, [printed, value('Nb', '0.04'), value('V', '0.061')])).toEqual([['0.09 %', 'conforms'], ['0.1010 %', 'does-not-conform']]);
    expect(told(sum, [value('Nb', '0.04'), value('V', '0.06')])).toEqual([['0.1000 %', 'conforms']]);
    expect(told(sum, [value('Nb', '0.04')])).toEqual([['at least 0.0400 %', 'not-comparable']]);
  });
});

describe('the yield ratio against a limit', () => {
  const strengths = [value('ReH', '450'), value('Rm', '500')];

  test.each([['0.90', '1', 'conforms'], ['0.899', '1', 'does-not-conform'], ['90', '%', 'conforms'], ['89.9', '%', 'does-not-conform']] as const)('0.9 against at most %s %s: %s', (max, unit, verdict) => {
    expect(lines(requirement('Y/T', { max, unit }), strengths)).toMatchObject([{ verdict, printed: '0.9000', unit }]);
  });

  test('is compared in the unit of the limit', () => {
    expect(lines(requirement('Y/T', { max: '93', unit: '%' }), strengths)).toMatchObject([{ compared: '90', margin: '3', rule: expect.stringContaining('converted exactly from 1 to %') }]);
    expect(lines(requirement('Y/T', { max: '0.93' }), [value('Y/T', '94', { unit: '%' })])).toMatchObject([{ verdict: 'does-not-conform', compared: '0.94' }]);
  });

  const limited = requirement('Y/T', { max: '0.93' });
  const [head, tail] = [{ location: 'head' }, { location: 'tail' }];

  test('across two test pieces is not comparable, not unreported: a yield strength stands there, and Rm of its test is missing', () => {
    expect(lines(limited, [value('ReH', '450', head), value('Rm', '500', tail)])).toMatchObject([
      { verdict: 'not-comparable', printed: 'at least 0.0000', reason: expect.stringContaining('Rm not reported for the test of this ReH of 450 MPa') },
    ]);
  });

  test('is open where one of two tests lacks Rm, however good the other is', () => {
    const values = [value('ReH', '450', head), value('Rm', '541', head), value('ReH', '560', tail)];
    expect(told(limited, values)).toEqual([['0.8318', 'conforms'], ['at least 0.0000', 'not-comparable']]);
    expect(told(requirement('Y/T'), values)).toEqual([['0.8318', 'conforms'], ['at least 0.0000', 'not-comparable']]);
  });

  test('is not made open by a missing Rm where the ratio itself is reported for that test, only where it is for another', () => {
    expect(told(limited, [value('Y/T', '0.90', tail), value('ReH', '560', tail)])).toEqual([['0.90', 'conforms']]);
    const others = [head, {}, { ...tail, direction: 'across' }, { ...tail, source: { label: 'certificate C-2', record: null } }];
    for (const other of others) {
      expect(told(limited, [value('Y/T', '0.90', other), value('ReH', '560', tail)])).toEqual([['0.90', 'conforms'], ['at least 0.0000', 'not-comparable']]);
    }
  });

  test('stays open where the ratio is reported, Rm is missing and the yield strength is in doubt', () => {
    const values = [value('Y/T', '0.90'), value('ReH', '560', { doubt: 'the two keyings differ' })];
    expect(told(limited, values)).toEqual([['0.90', 'conforms'], ['at least 0.0000', 'not-comparable']]);
  });

  test('is not comparable where no paper gives Rm, and not reported where none gives a yield strength', () => {
    expect(lines(limited, [value('ReH', '450'), value('Rp0.2', '440')]).map(({ verdict, reason }) => [verdict, reason])).toEqual(['ReH of 450', 'Rp0.2 of 440'].map((strength) => [
      'not-comparable', expect.stringContaining(`Rm not reported for the test of this ${strength} MPa`),
    ]));
    expect(lines(limited, [value('Rm', '500')])).toMatchObject([{ verdict: 'not-reported', printed: null, reason: 'Y/T is asked for and was not reported' }]);
    expect(lines(limited, [])).toMatchObject([{ verdict: 'not-reported', printed: null }]);
  });

  test('with strengths in doubt is open, not unreported', () => {
    const doubtful = strengths.map((one) => ({ ...one, doubt: 'the two keyings differ' }));
    expect(lines(requirement('Y/T', { max: '0.93' }), doubtful)).toMatchObject([{ verdict: 'not-comparable', reason: expect.stringContaining('in doubt or not readable: ReH, Rm') }]);
  });
});

describe('what is remembered of one coil', () => {
  const rules = { requirements: [equivalent('0.43'), requirement('Y/T', { max: '0.93' })], ownTables: [], conformity: ABSOLUTE };
  const first = [...analysis(FULL), value('ReH', '450'), value('Rm', '500')];
  const changed = (code: string, overrides: Partial<SourcedValue>): SourcedValue[] => first.map((one) => (one.characteristic === code ? { ...one, ...overrides } : one));

  test.each([
    ['source', on('certificate C-2', first)],
    ['doubt', changed('V', { doubt: 'the two keyings differ' })], ['unit', changed('V', { unit: 'ppm' })], ['multiplier', changed('V', { multiplier: '100' })],
    ['uncertainty that is none', changed('V', { expandedU: '-1' })], ['digit', changed('V', { printed: '0.06' })],
    ['doubt in its tensile strength', changed('Rm', { doubt: 'the two keyings differ' })], ['unit of its yield strength', changed('ReH', { unit: 'ksi' })],
  ])('is not taken for another with another %s', (_what, second) => {
    const used = evaluator(rules, null);
    const before = used(first);
    expect(used(second)).toEqual(evaluator(rules, null)(second));
    expect(used(second)).not.toEqual(before);
    expect(used(first)).toEqual(before);
  });
});
