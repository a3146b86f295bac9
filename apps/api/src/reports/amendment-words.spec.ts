import { describe, expect, test } from '@jest/globals';
import type { FieldChange, HistoryEntry } from '../records/record.dto.js';
import { amendmentsOf, coilsIn, peopleIn } from './amendment-words.js';

const [ANNA, BORIS, COIL] = ['0197a2c4-5b00-7d31-9c11-3a5d0e7f1b02', '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b0a', '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b07'];
const NAMES: Readonly<Record<string, string>> = { [ANNA]: 'Anna Inspector', [BORIS]: 'Boris Engineer', [COIL]: 'LM-02' };
const names = (id: string): string => NAMES[id] ?? id;

const entry = (version: number, changes: FieldChange[], overrides: Partial<HistoryEntry> = {}): HistoryEntry => ({
  version, changes, action: version === 1 ? 'created' : 'amended', recordedAt: `2026-03-0${version}T08:00:00.000000Z`,
  keyedBy: ANNA, keyedByName: 'as known today', reason: version === 1 ? null : 'Read again', ...overrides,
});
const said = (change: FieldChange) => amendmentsOf([entry(1, []), entry(2, [change])], names)[0]?.changes;

describe('amendments in words', () => {
  test('the first version is none; each later one says when, who and why', () => {
    const gone = entry(3, [], { action: 'voided', reason: 'Entered twice' });
    expect(amendmentsOf([entry(1, []), entry(2, []), gone], names)).toEqual([
      { version: 2, amendedAt: '2026-03-02T08:00:00.000000Z', amendedBy: 'Anna Inspector', reason: 'Read again', changes: [] },
      { version: 3, amendedAt: '2026-03-03T08:00:00.000000Z', amendedBy: 'Anna Inspector', reason: 'Withdrawn: Entered twice', changes: [] },
    ]);
  });

  test('a field with parts is told part by part, in one order, and only the parts that differ', () => {
    const before = { by: ANNA, value: '4.61', method: 'gauge', at: '2026-03-02T08:15:00.000000Z' };
    const after = { by: BORIS, value: '4.63', method: 'gauge', at: '2026-03-02T09:15:00.000000Z' };
    expect(said({ field: 'found', before, after })).toEqual([
      { field: 'Found: value', before: '4.61', after: '4.63' },
      { field: 'Found: when', before: '2026-03-02 08:15:00 UTC', after: '2026-03-02 09:15:00 UTC' },
      { field: 'Found: by', before: 'Anna Inspector', after: 'Boris Engineer' },
    ]);
  });

  test('a part that was not there before, or is gone, has no value', () => {
    const after = { kind: 'use-as-is-under-concession', text: 'For this length only' };
    expect(said({ field: 'disposition', before: null, after })).toEqual([
      { field: 'Disposition: kind', before: null, after: 'use as is under concession' },
      { field: 'Disposition: text', before: null, after: 'For this length only' },
    ]);
    expect(said({ field: 'containment', before: { footageMm: 241_300 }, after: null })).toEqual([
      { field: 'Containment: footage', before: '241.300 m', after: null },
    ]);
  });

  test.each([
    ['extents', [{ from: { counterReading: '118500', station: 'wall gauge', uMm: '5' }, to: { footageMm: 212_600 } }],
      'counter reading 118500 at wall gauge (standard uncertainty 5 mm) to footage 212.600 m'],
    ['extents', [{ from: { footageMm: 1 }, to: null }, { from: { counterReading: '7', counter: 'spare' }, to: null }],
      'footage 0.001 m\ncounter reading 7 of counter spare'],
    ['footage', [{ fromMm: 212_000, toMm: 212_600 }], '212.000 to 212.600 m'],
    ['coilExtents', [{ coilId: COIL, stripFromMm: null, stripToMm: 236_500 }], 'coil LM-02, head to 236.500 m'],
    ['restsOn', [{ kind: 'counter-period', id: 'p' }], 'counter period p'],
    ['marks', [{ kind: 'noted', field: 'value' }], 'kind noted, field value'],
  ])('%s %j is %s', (field, after, words) => {
    expect(said({ field, before: [], after })?.[0]).toMatchObject({ before: null, after: words });
  });

  test('the people and coils that are named are found', () => {
    const history = [
      entry(1, []),
      entry(2, [
        { field: 'disposition', before: null, after: { approvedBy: BORIS } },
        { field: 'coilExtents', before: [], after: [{ coilId: COIL }] },
      ]),
    ];
    expect(new Set(peopleIn(history))).toEqual(new Set([ANNA, BORIS]));
    expect(coilsIn(history)).toEqual([COIL]);
  });
});
