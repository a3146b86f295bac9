import { readingOf, RESET } from './runs.js';
import { entered, later, type Fields, type Step } from './step.js';

const STRING = { stringId: '@string 2' };
const STRIP_SPECIFICATION = 'STS-12 rev 4, clause 7.4';
const LABORATORY = 'Site laboratory';

const plan: readonly Step[] = [
  entered('rasmus', 'sampling-plans', 'SP-1', {
    observedAt: '2026-02-27T09:00:00Z', number: 'SP-1', revision: 1, title: 'Destructive tests of the main string', effectiveFrom: '2026-02-27',
    tests: [
      { test: 'flattening', rules: [{ rule: 'coil-ends' }], retestAllowed: true, passingRetestsPerFailure: 2, source: STRIP_SPECIFICATION },
      { test: 'hardness', rules: [], retestAllowed: false, source: 'STS-12 rev 4, clause 7.6' },
      { test: 'reverse-bend', rules: [{ rule: 'stop-sides' }], retestAllowed: true, passingRetestsPerFailure: 2, source: 'STS-12 rev 4, clause 7.5' },
    ],
  }),
  entered('rasmus', 'sampling-plan-assignments', 'SP-1 for string 2', {
    observedAt: '2026-02-27T09:20:00Z', ...STRING, samplingPlanId: '@SP-1', fromDay: '2026-03-02', note: 'Assigned before the first pipe.',
  }),
];

const CUT_PIECE = '2026-03-03T16:40:00Z';
const CUSTODY = [
  { by: 'Ilka Brandt', at: '2026-03-03T17:30:00Z', from: 'Cutting bench', to: 'Sample store' }, { by: 'Rasmus Feld', at: '2026-03-04T07:40:00Z', from: 'Sample store', to: LABORATORY },
];

const END_MM = 1_231_847;
/** What was marked on the pipe there: what both periods of the counter showed, at 1 mm a count. */
const MARKED_END_MM = Number(readingOf(RESET.weldMm)) + Number(readingOf(END_MM));

const RINGS = ['TS-2B', 'TS-2C'];

/** Piece LM-P1 holds the last pipe of LM-03 and, tail first, the first of LM-04. */
const SAMPLES: readonly (Fields & { number: string; observedAt: string })[] = [
  { number: 'TS-1', observedAt: CUT_PIECE, coilId: '@LM-03', coilEnd: 'tail', orientation: 'full-section', custody: CUSTODY, note: 'From piece LM-P1.' },
  { number: 'TS-2', observedAt: later(CUT_PIECE, 5), coilId: '@LM-04', coilEnd: 'tail', orientation: 'full-section', custody: CUSTODY, note: 'From piece LM-P1.' },
  // A retest is made on another piece than the one that failed.
  ...RINGS.map((number) => ({
    number, observedAt: later(CUT_PIECE, 5), coilId: '@LM-04', coilEnd: 'tail', orientation: 'full-section', custody: CUSTODY, note: 'From piece LM-P1, a further ring beside TS-2.',
  })),
  { number: 'TS-3', observedAt: '2026-03-05T08:45:00Z', spliceId: '@S-4', orientation: 'transverse', note: 'Coupon S-4-C1.' },
  {
    number: 'TS-4', observedAt: '2026-03-12T16:40:00Z', stopFootageMm: MARKED_END_MM, stopSide: 'before', seamEventId: `@seam to ${END_MM}`, orientation: 'full-section',
    note: 'From the end of the string.',
  },
];
const samples = SAMPLES.map((sample) => entered('ilka', 'test-samples', sample.number, { ...STRING, ...sample }));

const flattened = (plateDistanceMm: string, cracks: readonly Fields[]): Fields => ({
  outsideDiameterMm: '127.0', wallThicknessMm: '5.00', flattenedOn: 'piece', pieceLengthMm: '60', plateWidthMm: '250', plateDistanceMm, seamPositionDeg: '90',
  constant: { constant: '0.07', steel: 'S420MC, welded', source: STRIP_SPECIFICATION }, cracks,
});
/** H = (1 + 0.07) 5.00 / (0.07 + 5.00/127.0) = 48.9 mm: flattened to it or further. */
const FLAT_MM = '48.5';
const CRACKED = '2026-03-04T10:10:00Z';

const flattening = (key: string, observedAt: string, sample: string, fields: Fields): Step => entered('rasmus', 'destructive-tests', key, {
  observedAt, ...STRING, testSampleId: `@${sample}`, kind: 'flattening', method: 'ISO 8492', laboratory: LABORATORY, stated: 'Flattened between plates; the insides do not touch', ...fields,
});

const tests: readonly Step[] = [
  flattening('flattening of TS-1', '2026-03-04T09:40:00Z', 'TS-1', { outcome: 'pass', flattening: flattened(FLAT_MM, []) }),
  flattening('flattening of TS-2', CRACKED, 'TS-2', {
    outcome: 'fail', flattening: flattened(FLAT_MM, [{ length: '9', unit: 'mm', place: 'elsewhere' }]), note: 'Crack beside the seam.',
  }),
  ...RINGS.map((ring, index) => flattening(`retest ${index + 1} of TS-2`, later(CRACKED, 40 * (index + 1)), ring, {
    outcome: 'pass', followsTestId: '@flattening of TS-2', flattening: flattened(FLAT_MM, []),
  })),
  entered('rasmus', 'destructive-tests', 'hardness of TS-3', {
    observedAt: '2026-03-05T13:30:00Z', ...STRING, testSampleId: '@TS-3', kind: 'hardness', method: 'ISO 6507-1', laboratory: LABORATORY, outcome: 'pass',
    readings: [
      { name: 'weld metal', printed: '213', unit: 'HV10', max: '250' }, { name: 'heat-affected zone', printed: '231', unit: 'HV10', max: '250' },
    ],
  }),
  entered('rasmus', 'destructive-tests', 'reverse bend of TS-4', {
    observedAt: '2026-03-13T09:20:00Z', ...STRING, testSampleId: '@TS-4', kind: 'reverse-bend', method: 'STS-12 rev 4, annex B', laboratory: LABORATORY, outcome: 'pass',
    stated: 'Bent forth and back along the weld', reverseBend: { bends: 2, crackAtWeld: false },
  }),
];

/** How often the pipe is sampled, what was cut from it, and what came of that. */
export const TESTS: readonly Step[] = [...plan, ...samples, ...tests];
