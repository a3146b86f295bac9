import { describe, expect, test } from '@jest/globals';
import { evaluator } from '#libs/strip';
import { rulesOf } from '../specifications/strip-rules.js';
import { coilKnowledge, coilPaper, paperLine, printed, receiptRow, requirement, specificationRow } from './coil-knowledge.factory.js';
import type { CoilKnowledge } from './coil-knowledge.js';
import { coilValues } from './coil-values.js';
import { crossChecks } from './cross-checks.js';

function checked(changes: Partial<CoilKnowledge>): [severity: string, check: string][] {
  const knowledge = coilKnowledge(changes);
  const values = coilValues(knowledge);
  const { lines } = evaluator(rulesOf(specificationRow({ requirements: [requirement({ min: '0.06' })] })), null)(values);
  return crossChecks(knowledge, values, lines).map(({ severity, check }) => [severity, check]);
}

describe('cross-checks', () => {
  test('of a coil about which everything fits together are none', () => {
    expect(checked({})).toEqual([]);
  });

  test('tell warnings first, those of identity before those of figures, and notes last', () => {
    const slipped = coilPaper([paperLine({ coilNumber: 'LM-02', values: [printed({ printed: '0.85' }), printed({ characteristic: 'mass', analysis: null, printed: '9000', unit: 'kg' })] })]);
    expect(checked({ papers: [slipped], receipts: [receiptRow({ tagNumber: 'LM-O2' })], likeCoils: ['LM-O2'], order: null, ordered: null }))
      .toEqual([['warning', 'tag'], ['warning', 'slip'], ['warning', 'mass'], ['note', 'revision in force'], ['note', 'near number']]);
  });
});
