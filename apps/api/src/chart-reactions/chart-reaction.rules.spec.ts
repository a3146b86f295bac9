import { describe, expect, test } from '@jest/globals';
import { answeredSignal, beyondString, reactionFaults, reactionFindings, reactionLabel } from './chart-reaction.rules.js';

type Said = Parameters<typeof reactionFaults>[0];

const signal: Said['answers'][number] = { panel: 'values', rule: 'one-beyond-3-sigma', fromMm: 10, toMm: 20 };
/** A reaction that is right, but for `changes`. */
const said = (changes: Partial<Said> = {}): Said => ({ answers: [signal], reading: 'real', repeatedValue: '1.62', causesLookedAt: [], action: 'none-needed', ...changes });
const fields = (changes: Partial<Said>): string[] => reactionFaults(said(changes)).map(({ field }) => field);

describe('a reaction', () => {
  test('answers signals that have a place or a label', () => {
    const at = (part: Partial<typeof signal>): string[] => fields({ answers: [signal, { panel: 'values', rule: 'beyond-limit', ...part }] });
    expect([at({ fromMm: 0, toMm: 1 }), at({ label: 'LM-03' }), at({ fromMm: 0, toMm: 1, label: 'S-3' })]).toEqual([[], [], []]);
    expect([at({}), at({ fromMm: 5 }), at({ toMm: 5, label: 'S-3' }), at({ fromMm: 5, toMm: 5 }), at({ fromMm: 5, toMm: 4 })]).toEqual([
      ['answers[1].label'], ['answers[1].toMm'], ['answers[1].fromMm'], ['answers[1].toMm'], ['answers[1].toMm'],
    ]);
  });

  test('repeats the reading, or says why not', () => {
    const because = { notRepeatedBecause: 'Strip had gone' };
    const right = [{}, { reading: 'not-real' }, { repeatedWithInstrumentId: 'g' }, { repeatedValue: null, ...because }, { repeatedValue: null, reading: 'not-repeated', ...because }] as const;
    expect(right.map((changes) => fields(changes))).toEqual([[], [], [], [], []]);
    expect([fields({ repeatedValue: null }), fields({ repeatedValue: undefined, reading: 'not-repeated' })]).toEqual([['notRepeatedBecause'], ['notRepeatedBecause']]);
    expect([fields(because), fields({ reading: 'not-repeated' }), fields({ repeatedValue: null, repeatedWithInstrumentId: 'g', ...because })]).toEqual([
      ['notRepeatedBecause'], ['reading'], ['repeatedWithInstrumentId'],
    ]);
  });

  test('marks pipe from one footage to a later one', () => {
    expect([fields({ watchFromMm: 0, watchToMm: 1 }), fields({ watchFromMm: 1 }), fields({ watchToMm: 1 }), fields({ watchFromMm: 1, watchToMm: 1 })]).toEqual([[], ['watchToMm'], ['watchFromMm'], ['watchToMm']]);
  });

  test('says what was done to the line, and which nonconformance followed', () => {
    expect([fields({ action: 'adjusted', did: 'Rolls' }), fields({ action: 'nonconformance', nonconformanceId: 'n' }), fields({ did: 'Looked' })]).toEqual([[], [], []]);
    expect([fields({ action: 'adjusted' }), fields({ action: 'stopped' }), fields({ action: 'nonconformance' }), fields({ nonconformanceId: 'n' })]).toEqual([
      ['did'], ['did'], ['nonconformanceId'], ['nonconformanceId'],
    ]);
  });

  test('lies on its string', () => {
    const beyond = (changes: Partial<Said>): string[] => beyondString(said(changes), 20).map(({ field }) => field);
    expect([beyond({}), beyond({ answers: [signal, { ...signal, toMm: 21 }] }), beyond({ watchToMm: 20 }), beyond({ watchToMm: 21 })]).toEqual([[], ['answers[1].toMm'], [], ['watchToMm']]);
  });

  test('with a repeated value beyond the specification, or to limits that were withdrawn, is marked', () => {
    const found = (repeatedValue: string | null, lower: string | null, upper: string | null, areVoid = false): [string, string][] =>
      reactionFindings({ repeatedValue, limitsId: 'l' }, { lower, upper }, areVoid).map(({ tier, field }) => [tier, field]);
    const out = [['out-of-specification', 'repeatedValue']];
    expect([found('1.50', '0.5', '1.5'), found('0.50', '0.5', null), found('9.5', null, '10'), found(null, '0.5', '1.5')]).toEqual([[], [], [], []]);
    expect([found('1.51', '0.5', '1.5'), found('0.49', '0.5', null), found('10', '9', '9.5'), found('1', null, null, true)]).toEqual([out, out, out, [['noted', 'limitsId']]]);
    expect(reactionFindings({ repeatedValue: '99', limitsId: 'l' }, null, false)).toEqual([]);
  });
});

test('a reaction is kept with all that it can say', () => {
  expect(answeredSignal({ panel: 'values', rule: 'beyond-limit', label: 'LM-03' })).toEqual({ panel: 'values', rule: 'beyond-limit', fromMm: null, toMm: null, label: 'LM-03' });
  expect(reactionLabel({ action: 'stopped', observedAt: '2026-03-02T08:15:00.000000Z' })).toBe('stopped of 2026-03-02T08:15:00.000000Z');
});
