import { expect, test } from '@jest/globals';
import { InspectionRun } from '../inspection-runs/inspection-run.entity.js';
import { CutOutVersion } from '../line/cut-out.entity.js';
import { ReferenceCheck } from '../reference-checks/reference-check.entity.js';
import { Rejoin } from '../rejoins/rejoin.entity.js';
import { SeamEvent } from '../seam-events/seam-event.entity.js';
import { CoilSegmentVersion } from '../segments/coil-segment.entity.js';
import { SpliceVersion } from '../splices/splice.entity.js';
import { boundariesOf, type BreakingRecords } from './chart-boundaries.js';
import { exclusionsOf } from './chart-exclusions.js';
import { BOUNDARY_KINDS, coilAt } from './chart-ground.js';

const placed = <R extends object>(row: R, id: string, fromMm: number, toMm: number, changes: Partial<R> = {}): R => Object.assign(row, { id, version: 1, span: { fromMm, toMm } }, changes);
const event = (id: string, kind: SeamEvent['event'], mm: number): SeamEvent => placed(new SeamEvent(), id, mm, mm + 1, { event: kind });

const RECORDS: BreakingRecords = {
  segments: [placed(new CoilSegmentVersion(), 'g1', 0, 10_050, { coilId: 'a' }), placed(new CoilSegmentVersion(), 'g2', 10_050, 30_000, { coilId: 'b' }), placed(new CoilSegmentVersion(), 'g3', 30_000, 40_000, { coilId: 'c' })],
  splices: [placed(new SpliceVersion(), 's1', 10_000, 10_100, { number: 'S-1' })],
  coilNumbers: new Map([['a', 'A'], ['b', 'B'], ['c', 'C']]),
  cutOuts: [placed(new CutOutVersion(), 'c1', 15_000, 16_000, { cause: 'Seam defect' }), placed(new CutOutVersion(), 'c2', 35_000, 36_000, { cause: 'Sample' })],
  rejoins: [Object.assign(new Rejoin(), { id: 'j1', version: 1, cutOutId: 'c1', procedure: 'WP-3' })],
  events: [event('e0', 'start', 5), event('e1', 'stop', 20_000), event('e2', 'restart', 20_010), event('e3', 'set-up-change', 25_000), event('e4', 'stop', 38_000)],
  setups: [],
  checks: [placed(new ReferenceCheck(), 'k1', 12_000, 12_001, { occasion: 'interval', observedAt: '2026-03-02T07:00:00.000000Z' })],
  runs: [{ row: Object.assign(new InspectionRun(), { id: 'n1', version: 1, observedAt: '2026-03-02T06:00:00.000000Z' }), atMm: 0 }],
};

test('a row breaks at coils, joints, events and checks; a splice tells of the coil that begins in it, and nothing breaks at the beginning', () => {
  expect(boundariesOf(RECORDS, BOUNDARY_KINDS).map(({ kind, atMm, label }) => `${atMm} ${kind}: ${label}`)).toEqual([
    '5 stop: start at 5 mm', '10000 splice: splice S-1', '12000 check: check interval of 2026-03-02T07:00:00.000000Z', '15000 cut-out: a cut-out', '16000 re-join: a re-join', '20000 stop: stop at 20000 mm',
    '20010 stop: restart at 20010 mm', '25000 set-up change: set-up-change at 25000 mm', '30000 coil: coil C', '35000 cut-out: a cut-out', '36000 cut-out: a cut-out', '38000 stop: stop at 38000 mm',
  ]);
  expect(boundariesOf(RECORDS, ['set-up change']).map(({ atMm, record }) => [atMm, record?.id])).toEqual([[25_000, 'e3']]);
});

test('pipe that was cut out is left out always; pipe near joints and stops as far as the plan says, each stop up to where the line ran again', () => {
  const shown = (aroundSplicesMm: number, aroundStopsMm: number): string[] =>
    exclusionsOf(RECORDS, { aroundSplicesMm, aroundStopsMm }).map(({ fromMm, toMm, because, record }) => `${fromMm}-${toMm} ${because} (${record?.id ?? ''})`);
  expect(shown(0, 0)).toEqual(['15000-16000 cut out: Seam defect (c1)', '35000-36000 cut out: Sample (c2)']);
  expect(shown(500, 0)).toEqual(['9500-10600 within 0.500 m of splice S-1 (s1)', '14500-16500 within 0.500 m of a re-join (j1)', '15000-16000 cut out: Seam defect (c1)', '35000-36000 cut out: Sample (c2)']);
  expect(shown(0, 1_000)).toEqual([
    '0-1006 within 1.000 m of start at 5 mm (e0)', '15000-16000 cut out: Seam defect (c1)', '19000-21011 within 1.000 m of stop at 20000 mm (e1)', '35000-36000 cut out: Sample (c2)', '37000-39001 within 1.000 m of stop at 38000 mm (e4)',
  ]);
});

test('a place is of the coil that all of it lies on', () => {
  const on = (fromMm: number, toMm: number): string | null => coilAt(RECORDS, { fromMm, toMm });
  expect([on(0, 100), on(10_049, 10_050), on(10_049, 10_051), on(10_050, 12_000), on(39_999, 40_000), on(41_000, 41_001)]).toEqual(['A', 'A', null, 'B', 'C', null]);
});
