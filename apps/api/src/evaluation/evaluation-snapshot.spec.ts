import { createHash } from 'node:crypto';
import { describe, expect, test } from '@jest/globals';
import { evaluator, type Evaluation } from '#libs/strip';
import { rulesOf } from '../specifications/strip-rules.js';
import { coilKnowledge, coilRow, heatRow, orderRow, requirement, sourced, specificationRow } from './coil-knowledge.factory.js';
import type { CoilKnowledge } from './coil-knowledge.js';
import { note, warning, type CrossCheck } from './cross-check.js';
import { lineText, saysOtherwise, snapshotOf } from './evaluation-snapshot.js';

const specification = specificationRow({ requirements: [requirement({ expandedU: '0.005' })] });
const evaluation = (digits = '0.085', version = 1): Evaluation => evaluator(rulesOf(specification), null)([
  sourced({ printed: digits, source: { label: 'certificate TS-1 (3.1), line 1', record: { kind: 'certificate-transcription', id: 'keying', version } } }),
]);
const check = warning('mass', 'weighed here: 3300 kg', { kind: 'coil-receipt', id: 'receipt', version: 1 });

interface Said {
  readonly knowledge?: Partial<CoilKnowledge>;
  readonly specification?: typeof specification;
  readonly evaluation?: Evaluation;
  readonly checks?: readonly CrossCheck[];
}
const snapshot = (said: Said = {}): ReturnType<typeof snapshotOf> => snapshotOf(coilKnowledge(said.knowledge), said.specification ?? specification, said.evaluation ?? evaluation(), said.checks ?? [check]);

/** The same object with the keys of every object in it the other way round. */
function turned<T>(value: T): T {
  if (typeof value !== 'object' || value === null) return value;
  if (Array.isArray(value)) return value.map(turned) as T;
  return Object.fromEntries(Object.entries(value).reverse().map(([key, one]) => [key, turned(one)])) as T;
}

describe('a snapshot', () => {
  test('of the same knowledge is the same text, whatever the order of keys', () => {
    expect(snapshot({ evaluation: turned(evaluation()), checks: turned([check]) })).toEqual(snapshot());
    expect(JSON.stringify(turned(evaluation()))).not.toBe(JSON.stringify(evaluation()));
  });

  test('has the SHA-256 of its text', () => {
    const { text, sha256 } = snapshot();
    expect(sha256).toBe(createHash('sha256').update(text, 'utf8').digest('hex'));
  });

  test('says whose, against what, each line and each check, in texts, whole numbers and nulls', () => {
    const { text } = snapshot({ knowledge: { order: null } });
    expect(JSON.parse(text)).toMatchObject({
      coil: { id: 'coil', version: 1, number: 'LM-02' }, heat: { number: 'H40711' }, order: null, verdict: 'conforms', crossChecks: [{ check: 'mass' }],
      specification: { id: 'revision 4', number: 'STS-12', revision: 4, rounding: 'rounding', decisionRule: 'simple-acceptance', guardFactor: '1' },
      lines: [{ name: 'C, heat analysis', printed: '0.085 %', conformanceProbability: '1.0000' }],
    });
    const numbers: number[] = [];
    JSON.parse(text, (_, value: unknown) => { if (typeof value === 'number') numbers.push(value); return value; });
    expect(numbers.length).toBeGreaterThan(3);
    expect(numbers.every(Number.isInteger)).toBe(true);
  });

  test('keeps a probability to four decimals, and none as none', () => {
    const [line] = evaluation('0.12').lines;
    expect(line === undefined ? null : lineText(line).conformanceProbability).toBe('0.5000');
    expect(line === undefined ? null : lineText({ ...line, conformanceProbability: null }).conformanceProbability).toBeNull();
  });
});

describe('says otherwise', () => {
  const differs = (said: Said): boolean => {
    const [before, after] = [snapshot().text, snapshot(said).text];
    expect(after).not.toBe(before);
    expect(saysOtherwise(after, before)).toBe(saysOtherwise(before, after));
    return saysOtherwise(before, after);
  };

  test('not the same text', () => {
    expect(saysOtherwise(snapshot().text, snapshot().text)).toBe(false);
  });

  test.each<[string, Said]>([
    ['coil', { knowledge: { coil: coilRow({ version: 2 }) } }], ['heat', { knowledge: { heat: heatRow({ version: 2 }) } }], ['order', { knowledge: { order: orderRow({ version: 2 }) } }],
    ['specification', { specification: specificationRow({ ...specification, version: 2 }) }], ['keying', { evaluation: evaluation('0.085', 2) }],
    ['record of a check', { checks: [{ ...check, records: [{ kind: 'coil-receipt', id: 'receipt', version: 2 }] }] }],
  ])('not another version of the %s alone', (_, said) => {
    expect(differs(said)).toBe(false);
  });

  test.each<[string, Said]>([
    ['number of the coil', { knowledge: { coil: coilRow({ number: 'LM-03' }) } }], ['heat', { knowledge: { heat: heatRow({ id: 'other' }) } }], ['order', { knowledge: { order: null } }],
    ['revision', { specification: specificationRow({ ...specification, revision: 5 }) }], ['guard factor', { specification: specificationRow({ ...specification, guardFactor: '0.5' }) }],
    ['value', { evaluation: evaluation('0.086') }], ['digits of a value', { evaluation: evaluation('0.0850') }],
    ['check', { checks: [] }], ['severity of a check', { checks: [{ ...check, severity: 'note' }] }], ['order of checks', { checks: [check, note('near number', 'there is another')] }],
    ['record of a check', { checks: [{ ...check, records: [{ kind: 'coil-receipt', id: 'other', version: 1 }] }] }],
  ])('another %s', (_, said) => {
    expect(differs(said)).toBe(true);
  });
});
