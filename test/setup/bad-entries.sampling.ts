import type { EntryKind } from './bad-entries.js';
import { agreement, atWrite, contradiction, EVERYWHERE, impossible, leadsNowhere, oneOf, outOfForm, reference } from './entry-faults.js';

const AT = '2026-03-02T09:15:00Z';
const TESTED = '2026-03-04T08:00:00Z';
const day = (nth: number): string => new Date(Date.UTC(2026, 0, 1 + nth)).toISOString().slice(0, 10);

const ORIGIN = ['footageMm', 'coilId', 'coilEnd', 'spliceId', 'stopFootageMm', 'stopSide', 'seamEventId'];
const stopped = { footageMm: null, stopFootageMm: 50_000, stopSide: 'after' };

const SAMPLES: EntryKind = {
  path: 'test-samples',
  isOneLook: true,
  right: ({ stringId }, nth) => ({
    observedAt: AT, stringId, number: `TS-X${nth}`, footageMm: 60_000, orientation: 'full-section',
    custody: [{ by: 'M. Oster', at: '2026-03-02T09:30:00Z', from: 'Line', to: 'Store' }, { by: 'Courier', at: '2026-03-02T14:00:00Z', from: 'Store', to: 'Laboratory' }],
  }),
  faults: [
    ...EVERYWHERE,
    outOfForm('footageMm', -1, 1.5, '60000', 100_000_001), outOfForm('orientation', 'slanted', 'long'), outOfForm('custody[0].at', '2026-03-02 09:30', '09:30'), outOfForm('coilEnd', 'middle', 'Head'), outOfForm('custody[1].by', '', ' '),
    contradiction('of nothing', 'footageMm', () => null, { touches: ORIGIN, named: () => [{ field: 'coilId', value: null }] }),
    contradiction('of two things', 'spliceId', ({ spliceId }) => spliceId, { touches: ORIGIN, named: (value) => [{ field: 'footageMm', value: 60_000 }, { field: 'spliceId', value }] }),
    contradiction('an end of no coil', 'coilEnd', oneOf('head', 'tail'), { touches: ['coilId'] }),
    contradiction('a side of no stop', 'stopSide', oneOf('before', 'after'), { touches: ['stopFootageMm'] }),
    contradiction('a stop beside no stop', 'seamEventId', ({ stopId }) => stopId, { touches: ['stopFootageMm'] }),
    contradiction('handed on before it was taken', 'custody[0].at', oneOf('2026-03-02T09:14:59Z', '2026-02-15T08:00:00Z'), { touches: ['observedAt'] }),
    contradiction('handed on before it had come', 'custody[1].at', oneOf('2026-02-01T08:00:00Z', '2025-03-02T14:00:00Z'), { touches: ['observedAt'] }),
    agreement('past the end of the string', 'footageMm', oneOf(4_000_000, 99_000_000), { touches: ORIGIN.slice(1) }),
    ...leadsNowhere('spliceId', ['voidSpliceId', 'spliceElsewhereId'], { touches: ORIGIN, besides: () => ({ footageMm: null }) }),
    ...leadsNowhere('coilId', ['voidCoilId', 'spliceId'], { touches: ORIGIN, besides: () => ({ footageMm: null, coilEnd: 'head' }) }),
    ...leadsNowhere('seamEventId', ['startId', 'stopElsewhereId'], { touches: ORIGIN, besides: () => stopped }),
    atWrite('a number taken', 'number', oneOf('TS-X0', 'ts-x0')),
  ],
};

const FLATTENED = { outsideDiameterMm: '127.0', wallThicknessMm: '5.00', flattenedOn: 'piece' };
const REVERSE_BEND = { bends: 2, crackAtWeld: false };
const KIND = ['kind', 'flattening', 'flaring', 'reverseBend', 'followsTestId'];

const TESTS: EntryKind = {
  path: 'destructive-tests',
  isOneLook: true,
  right: ({ stringId, sampleId, hardnessTestId }) => ({
    observedAt: TESTED, stringId, testSampleId: sampleId, kind: 'hardness', method: 'ISO 6507-1', laboratory: 'Site laboratory', outcome: 'pass', followsTestId: hardnessTestId,
    readings: [{ name: 'weld metal', printed: '212', unit: 'HV10', min: '150', max: '250' }, { name: 'heat-affected zone', printed: '231', unit: 'HV10', max: '250' }],
  }),
  faults: [
    ...EVERYWHERE,
    outOfForm('kind', 'bend', 'Hardness'), outOfForm('outcome', 'ok', 'passed'), outOfForm('readings[0].min', '150,0', 'none'), outOfForm('laboratory', '', ' '), outOfForm('flattening', 'flat', []),
    impossible('digits that are none', 'readings[0].printed', oneOf('212,5', 'x', '21 2', '212 HV10')),
    impossible('only a sign', 'readings[1].printed', oneOf('<', '< ', '>=', '≥ -')),
    contradiction('both read and seen', 'stated', () => 'No crack', { touches: ['readings'] }),
    contradiction('neither read nor seen', 'readings', () => null, { touches: ['outcome', 'stated', 'readings[0].min', 'readings[0].max', 'readings[0].printed', 'readings[1].printed'] }),
    contradiction('a reason of no void test', 'voidReason', () => 'Piece slipped', { touches: ['outcome'] }),
    contradiction('void without a reason', 'outcome', () => 'void', { touches: ['voidReason', 'readings[1].printed', 'kind', 'flattening'], named: () => [{ field: 'voidReason', value: null }] }),
    contradiction('a limit reversed', 'readings[0].max', oneOf('149', '-250', '0'), { touches: ['readings[0].min', 'readings[0].printed', 'readings'] }),
    contradiction('a pass beside a failing reading', 'readings[1].printed', oneOf('251', '250.1', '>260', '2310'), { touches: ['outcome', 'readings'] }),
    contradiction('a bend of a hardness test', 'reverseBend', () => REVERSE_BEND, { touches: ['kind'] }),
    contradiction('flattened to more than the tube', 'flattening', () => ({ ...FLATTENED, plateDistanceMm: '130' }), {
      touches: [...KIND, 'outcome'], besides: () => ({ kind: 'flattening', followsTestId: null }), named: () => [{ field: 'flattening.plateDistanceMm', value: '130' }],
    }),
    contradiction('a tube without a bore', 'flattening', () => ({ ...FLATTENED, wallThicknessMm: '63.5' }), {
      touches: [...KIND, 'outcome'], besides: () => ({ kind: 'flattening', followsTestId: null }), named: () => [{ field: 'flattening.wallThicknessMm', value: '63.5' }],
    }),
    contradiction('a flare narrower than the tube', 'flaring', () => ({ outsideDiameterMm: '127.0', wallThicknessMm: '5.00', flaredDiameterMm: '126.9' }), {
      touches: [...KIND, 'outcome'], besides: () => ({ kind: 'flaring', followsTestId: null }), named: () => [{ field: 'flaring.flaredDiameterMm', value: '126.9' }],
    }),
    agreement('tested before it was taken', 'observedAt', oneOf('2026-03-01T08:00:00Z', '2025-03-04T08:00:00Z'), { touches: ['followsTestId', 'testSampleId'], besides: () => ({ followsTestId: null }) }),
    agreement('a retest of another test', 'followsTestId', ({ macroTestId }) => macroTestId, { touches: ['kind'] }),
    agreement('before the test that it follows', 'observedAt', () => '2026-03-02T08:30:00Z', { touches: ['followsTestId'] }),
    ...leadsNowhere('testSampleId', ['voidSampleId', 'sampleElsewhereId', 'spliceId']),
    ...leadsNowhere('followsTestId', ['testElsewhereId', 'sampleId'], { touches: ['kind'] }),
    reference("another string's", 'stringId', ({ otherStringId }) => otherStringId, {
      touches: ['testSampleId', 'followsTestId'], named: (_, { sampleId, hardnessTestId }) => [{ field: 'testSampleId', value: sampleId }, { field: 'followsTestId', value: hardnessTestId }],
    }),
  ],
};

const PLANS: EntryKind = {
  path: 'sampling-plans',
  right: (_, nth) => ({
    observedAt: AT, number: `SP-X${nth}`, revision: 1, title: 'Main string', effectiveFrom: '2025-06-01',
    tests: [
      { test: 'flattening', rules: [{ rule: 'coil-ends' }, { rule: 'stop-sides' }], retestAllowed: true, passingRetestsPerFailure: 2, source: 'STS-12 rev 3' },
      { test: 'hardness', rules: [{ rule: 'every-length', everyMm: 600_000 }], retestAllowed: false, source: 'STS-12 rev 3' },
    ],
  }),
  faults: [
    ...EVERYWHERE,
    outOfForm('revision', 0, -1, '1', 1.5), outOfForm('effectiveFrom', '2025-00-10', '2025-02-30', '1.6.2025'), outOfForm('tests[1].rules[0].everyMm', 0, -600, '600 m', 0.6),
    outOfForm('tests[0].passingRetestsPerFailure', 0, -2, 21), outOfForm('tests[0].test', 'smell', 'Flattening'), outOfForm('tests[0].source', '', ' '),
    contradiction('a test planned twice', 'tests[1].test', () => 'flattening', { touches: ['tests[0].test'] }),
    contradiction('a rule twice', 'tests[0].rules[1].rule', () => 'coil-ends'),
    contradiction('every so much of nothing', 'tests[1].rules[0].everyMm', () => null),
    contradiction('a length of no length', 'tests[0].rules[0].everyMm', oneOf(1000, 600_000)),
    contradiction('retests without a number', 'tests[0].passingRetestsPerFailure', () => null),
    contradiction('a number of no retests', 'tests[1].passingRetestsPerFailure', oneOf(1, 2)),
    atWrite('a revision taken', 'number', oneOf('SP-X0', 'sp-x0'), { touches: ['revision'], named: () => [{ field: 'revision', value: 1 }] }),
  ],
};

const ASSIGNMENTS: EntryKind = {
  path: 'sampling-plan-assignments',
  right: ({ stringId, planId }, nth) => ({ observedAt: AT, stringId, samplingPlanId: planId, fromDay: day(nth) }),
  faults: [
    ...EVERYWHERE,
    outOfForm('fromDay', '2026-02-30', '1 March', '2026-3-1', 20_260_301), outOfForm('samplingPlanId', 'SP-A', ''), outOfForm('note', ' ', 1),
    ...leadsNowhere('samplingPlanId', ['voidPlanId', 'gaugeId']), ...leadsNowhere('stringId', ['planId']),
    agreement('before the plan is effective', 'fromDay', oneOf('2025-05-31', '1999-01-01'), { touches: ['samplingPlanId', 'stringId'] }),
    atWrite('a day taken', 'fromDay', () => day(0), { touches: ['stringId'] }),
  ],
};

/** How often pipe is sampled, samples and their tests. */
export const SAMPLING_ENTRIES: readonly EntryKind[] = [SAMPLES, TESTS, PLANS, ASSIGNMENTS];
