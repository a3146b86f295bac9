import { describe, expect, test } from '@jest/globals';
import { VERDICTS } from '#libs/conformity';
import { certificateRow, coilPaper, keying, paperLine, printed } from './coil-knowledge.factory.js';
import { note, warning } from './cross-check.js';
import { decisionMeanings, type DecisionGround } from './decision-meaning.js';

const ground = (changes: Partial<DecisionGround> = {}): DecisionGround => ({ coilNumber: 'LM-02', specification: 'STS-12 revision 4', verdict: 'conforms', papers: [coilPaper()], checks: [], ...changes });
const whyNot = (changes: Partial<DecisionGround>): (string | null)[] => decisionMeanings(ground(changes)).map(({ notOpenBecause }) => notOpenBecause);

describe('decisions', () => {
  test('each say what a signature means, of this coil and revision', () => {
    const start = 'I have examined the evaluation of coil LM-02 against STS-12 revision 4 and ';
    expect(decisionMeanings(ground()).map(({ decision, statement }) => [decision, statement.replace(start, '')])).toEqual([
      ['hold', 'put the coil on hold until it is decided.'], ['accept', 'accept the coil for use.'],
      ['accept-under-concession', 'accept the coil under the concession stated, although it was not shown to conform, within the limit stated.'],
      ['reject', 'reject the coil: it shall not be used.'], ['return', 'have the coil returned to its supplier.'],
    ]);
  });

  test('are all open for a coil that conforms on verified papers, but for a concession', () => {
    expect(whyNot({})).toEqual([null, null, 'the coil was shown to conform: it needs no concession', null, null]);
  });

  test.each(['names the coil', 'tag'] as const)('acceptance alone is not open when "%s" warns that it may be another coil', (check) => {
    expect(whyNot({ checks: [warning(check, 'LM-20, nearly the same')] }))
      .toEqual([null, 'whether papers and strip are of the same coil is open: LM-20, nearly the same', null, null, null]);
  });

  test('other warnings, and notes, are for the engineer to weigh', () => {
    expect(whyNot({ checks: [warning('mass', 'weighed here'), note('tag', 'says the same')] })[1]).toBeNull();
  });

  test.each(VERDICTS.filter((verdict) => verdict !== 'conforms'))('acceptance alone is not open when the worst value is %s', (verdict) => {
    expect(whyNot({ verdict })).toEqual([null, `the worst of its values is "${verdict}": accept under concession with its limit, hold, reject or return`, null, null, null]);
  });

  test('acceptance is not open while any paper is not verified', () => {
    const once = coilPaper([], { certificate: certificateRow({ number: 'TS-2' }), keyings: [keying([paperLine()])] });
    const never = coilPaper([], { certificate: certificateRow({ number: 'TS-3' }), keyings: [] });
    const differing = coilPaper([], { keyings: [keying([paperLine()]), keying([paperLine({ values: [printed({ printed: '0.058' })] })], { keying: 2 })] });
    expect(whyNot({ papers: [coilPaper(), once, never, differing] })[1])
      .toBe('its papers were not verified by a second keying: TS-2 (keyed-once), TS-3 (not-keyed), TS-1 (keyings-differ)');
  });
});
