import { describe, expect, test } from '@jest/globals';
import { stateOf } from './arrival-state.js';
import { stationCounts } from './arrival-findings.js';
import type { SpliceArrivalAnswer, SpliceAtStation } from './splice-arrivals.dto.js';

const link = (id: string) => ({ kind: 'splice', id, version: 1, label: id });
const seen = { step: link('step'), at: '2026-03-02T10:00:00.000000Z', weldFootageMm: null, differenceMm: null, plusMinusMm: null, agrees: null, words: '' };
const gate = { bestMm: 0, gate: { fromMm: 0, toMm: 1 }, restsOn: [] };
const at = (name: string, state: SpliceAtStation['state'], sightings: number, isUpstream = false): SpliceAtStation =>
  ({ name, isUpstream, expected: gate, state, sightings: Array.from({ length: sightings }, () => seen), isMissing: state === 'past' && sightings === 0 && !isUpstream });
const arrival = (id: string, stations: SpliceAtStation[]): SpliceArrivalAnswer => ({
  splice: link(id), leavingCoil: null, enteringCoil: null, byStripLength: null, byStripLengthBecause: '', byStationsUpstream: [], byStationsUpstreamBecause: '', confirmed: null,
  confirmedBecause: '', atWeldPoint: 'past', stations, stationsBecause: '',
});

describe('the count at a station', () => {
  test('agrees while every splice past it was seen, however those in their gate stand', () => {
    expect(stationCounts([arrival('1', [at('UT', 'past', 1)]), arrival('2', [at('UT', 'due', 0)]), arrival('3', [at('UT', 'to-come', 0)])])).toEqual([
      { name: 'UT', past: 1, due: 1, seen: 1, sightings: 1, agrees: true },
    ]);
  });

  test.each<[string, SpliceAtStation]>([
    ['one past it that was not seen', at('UT', 'past', 0)], ['one seen that cannot have come yet', at('UT', 'to-come', 1)], ['one of which nothing is known', at('UT', 'not-known', 0)],
  ])('does not agree with %s', (_, station) => {
    expect(stationCounts([arrival('1', [at('UT', 'past', 1)]), arrival('2', [station])])).toMatchObject([{ agrees: false }]);
  });

  test('leaves out what was cut out before, and stations upstream', () => {
    expect(stationCounts([arrival('1', [at('splicer', 'past', 0, true), at('UT', 'cut-out', 0)])])).toEqual([{ name: 'UT', past: 0, due: 0, seen: 0, sightings: 0, agrees: true }]);
  });
});

test('a gate is before, at or past the greatest footage reached, both of its ends in it', () => {
  expect([99, 100, 109, 110, null].map((mm) => stateOf({ fromMm: 100, toMm: 110 }, mm))).toEqual(['to-come', 'due', 'due', 'past', 'not-known']);
});
