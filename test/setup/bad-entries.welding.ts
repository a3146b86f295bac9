import { v7 as uuidv7 } from 'uuid';
import type { EntryFault, EntryKind, Fields } from './bad-entries.js';
import { atWrite, contradiction, EVERYWHERE, impossible, leadsNowhere, oneOf, outOfForm, reference } from './entry-faults.js';
import type { EntryWorld } from './entry-world.js';

const AT = '2026-03-02T08:15:00Z';
const PAST_END_MM = 4_000_001;

const splice = ({ stringId, leavingCoilId, enteringCoilId }: EntryWorld, nth: number): Fields => ({
  observedAt: AT, stringId, number: `S-X${nth}`, leavingCoilId, enteringCoilId, angleDeg: '45', hand: 'left', confirmed: true, verdict: 'accepted', from: { footageMm: 100_000 },
});

const weldOf = ({ spliceProcedureId }: EntryWorld): Fields => ({
  observedAt: AT, weldProcedureId: spliceProcedureId, readings: [{ variable: 'current', printed: '205', unit: 'A' }, { variable: 'voltage', printed: '24.1', unit: 'V' }],
  chosen: [{ choice: 'process', value: '135' }], fillerBatch: 'FB-4471',
});

const stepOf = (): Fields => ({
  observedAt: AT, stage: 'flat-strip-release', outcome: 'accepted', coupons: ['S-3-C1'], photoSha256s: [],
  readings: [{ measured: 'high-low', printed: '0.2', unit: 'mm', max: '0.5' }, { measured: 'hardness-weld', printed: '220', unit: 'HV10', max: '250' }],
  examinations: [{ method: 'RT', technique: 'RT-02 rev 3', outcome: 'accepted' }, { method: 'VT', technique: 'VT-01 rev 1', outcome: 'accepted' }],
});

const SPLICES: EntryKind = {
  path: 'splices',
  right: splice,
  faults: [
    ...EVERYWHERE,
    outOfForm('angleDeg', '5', '-45', '45,5', '91', '45°', 45), outOfForm('hand', 'up', 'Left'), outOfForm('verdict', 'good', 'OK'), outOfForm('confirmed', 'yes', 1), outOfForm('number', '', ' '),
    outOfForm('from.footageMm', -1, 1.5, '100000', 100_000_001),
    contradiction('a coil spliced to itself', 'enteringCoilId', ({ leavingCoilId }) => leavingCoilId, { touches: ['leavingCoilId'] }),
    contradiction('a square hand of a slanted weld', 'hand', () => 'square', { touches: ['angleDeg'] }),
    contradiction('a hand of a square weld', 'hand', oneOf('left', 'right'), { touches: ['angleDeg'], besides: () => ({ angleDeg: '90' }) }),
    contradiction('a doubt that the verdict has not', 'doubt', () => 'Film unclear', { touches: ['verdict'] }),
    contradiction('in doubt without a word', 'doubt', () => null, { touches: ['verdict'], besides: () => ({ verdict: 'in-doubt' }) }),
    contradiction('nowhere', 'from', () => ({}), { touches: ['from.footageMm', 'to'], named: () => [{ field: 'from', value: null }] }),
    contradiction('a reading beside a footage', 'from.counterReading', oneOf('100000', '12'), { touches: ['from'] }),
    contradiction('a station beside a footage', 'from.station', () => 'wall gauge', { touches: ['from'] }),
    contradiction('it ends before it begins', 'to', oneOf({ footageMm: 99_000 }, { footageMm: 100_000 }, { footageMm: 0 }), {
      touches: ['from', 'from.footageMm'], named: (value) => [{ field: 'to', value: (value as Fields)['footageMm'] }],
    }),
    ...leadsNowhere('leavingCoilId', ['spliceId']), ...leadsNowhere('enteringCoilId', ['voidCoilId']),
    atWrite('a number taken', 'number', oneOf('S-X0', 's-x0')),
    atWrite('a coil that nobody accepted', 'enteringCoilId', ({ unacceptedCoilId }) => unacceptedCoilId),
    atWrite('past the end of the string', 'to', () => ({ footageMm: PAST_END_MM }), { touches: ['from', 'from.footageMm'], status: 422, named: () => [{ field: 'to', value: PAST_END_MM }] }),
  ],
};

const WELDS: EntryKind = {
  path: 'welds',
  right: (world) => ({ ...weldOf(world), stringId: world.stringId, spliceId: world.spliceId }),
  faults: [
    ...EVERYWHERE,
    outOfForm('readings[0].variable', 'amps', 'Current'), outOfForm('readings[0].unit', 'ampere', 'a'), outOfForm('chosen[0].choice', 'colour', ''), outOfForm('fillerBatch', ' ', 4471),
    impossible('a current that no weld has', 'readings[0].printed', oneOf('205,0', '-205', '25000', '20.5.0', '205 A', 'n/a')),
    impossible('a voltage in amperes', 'readings[1].unit', oneOf('A', 'mm', 'degC'), { touches: ['readings[1].printed'] }),
    impossible('a voltage that no weld has', 'readings[1].printed', oneOf('24,1', '-24.1', '2410', '?'), { touches: ['readings[1].unit'] }),
    contradiction('both a splice and a re-join', 'rejoinId', ({ rejoinId }) => rejoinId, { touches: ['spliceId'], named: (_, { spliceId }) => [{ field: 'spliceId', value: spliceId }] }),
    contradiction('neither a splice nor a re-join', 'spliceId', () => null, { touches: ['rejoinId'] }),
    ...leadsNowhere('spliceId', ['voidSpliceId', 'spliceElsewhereId', 'rejoinId'], { touches: ['rejoinId'] }),
    ...leadsNowhere('rejoinId', ['rejoinElsewhereId'], { touches: ['spliceId'], besides: () => ({ spliceId: null }) }),
    ...leadsNowhere('weldProcedureId', ['voidProcedureId']),
    ...leadsNowhere('readings[1].instrumentId', ['voidGaugeId', 'spliceId']),
    reference("another string's", 'stringId', ({ otherStringId }) => otherStringId, { touches: ['spliceId', 'rejoinId'], named: (_, { spliceId }) => [{ field: 'spliceId', value: spliceId }] }),
  ],
};

const STEPS: EntryKind = {
  path: 'splice-steps',
  right: ({ stringId, spliceId }) => ({ ...stepOf(), stringId, spliceId }),
  faults: [
    ...EVERYWHERE,
    outOfForm('stage', 'later', 'flat strip'), outOfForm('outcome', 'ok', 'Accepted'), outOfForm('readings[0].max', '0,5', '0.5 mm'), outOfForm('examinations[0].method', 'XT', 'rt', ''),
    outOfForm('chartSha256', 'abc', 'A'.repeat(64)), outOfForm('readings[1].unit', 'HV', 'Vickers'),
    impossible('digits that are none', 'readings[0].printed', oneOf('0,2', '--', '0.2 mm', '.2', 'ok')),
    impossible('a length in another unit', 'readings[0].unit', oneOf('MPa', 'HV10', 'A')),
    impossible('a hardness in millimetres', 'readings[1].unit', oneOf('mm', 'MPa')),
    impossible('a photo that is no file', 'photoSha256s', () => ['IMG_2041.jpg'], { named: () => [{ field: 'photoSha256s[0]', value: 'IMG_2041.jpg' }] }),
    contradiction('a station of no sighting', 'station', () => 'UT', { touches: ['stage'] }),
    contradiction('a sighting without its station', 'station', () => null, {
      touches: ['stage', 'examinations[0].method'], besides: () => ({ stage: 'station-sighting', 'examinations[0].method': 'VT' }),
    }),
    contradiction('radiography after forming', 'stage', () => 'after-forming', { touches: ['examinations[0].method'], named: () => [{ field: 'examinations[0].method', value: 'RT' }] }),
    contradiction('a limit reversed', 'readings[0].min', oneOf('0.6', '5', '0.51'), { touches: ['readings[0].max'], named: () => [{ field: 'readings[0].max', value: '0.5' }] }),
    contradiction('accepted beside a rejection', 'examinations[1].outcome', oneOf('rejected', 'held'), { touches: ['outcome'], named: () => [{ field: 'outcome', value: 'accepted' }] }),
    ...leadsNowhere('spliceId', ['voidSpliceId', 'spliceElsewhereId']),
    ...leadsNowhere('examinations[1].personId', ['gaugeId']), ...leadsNowhere('readings[1].instrumentId', ['voidGaugeId']),
    reference('a photo that nobody sent', 'photoSha256s', () => ['0'.repeat(64)], { named: () => [{ field: 'photoSha256s[0]', value: '0'.repeat(64) }] }),
    reference('a chart that nobody sent', 'chartSha256', () => 'f'.repeat(64)),
  ],
};

const REJOINS: EntryKind = {
  path: 'rejoins',
  right: ({ stringId, cutOutId, spareCutOutId }, nth) => ({ observedAt: AT, stringId, cutOutId: nth === 0 ? cutOutId : spareCutOutId, procedure: 'PW-2 rev 1', verdict: 'accepted', examination: 'Radiography' }),
  faults: [
    ...EVERYWHERE,
    outOfForm('verdict', 'maybe', 'in-doubt'), outOfForm('procedure', '', ' '), outOfForm('cutOutId', '12', 'LM-P4', 0), outOfForm('examination', ' ', 5),
    ...leadsNowhere('cutOutId', ['voidCutOutId', 'cutOutElsewhereId', 'spliceId']),
    reference("another string's", 'stringId', ({ otherStringId }) => otherStringId, { touches: ['cutOutId'], named: (_, { spareCutOutId }) => [{ field: 'cutOutId', value: spareCutOutId }] }),
    atWrite('joined already', 'cutOutId', ({ cutOutId }) => cutOutId),
  ],
};

/** Of a splice sent whole, the splice is looked at first, then its welds and its steps together; but the form of all before. */
const inPart = (part: 0 | 1, fault: EntryFault): EntryFault => ({ ...fault, part });

const WHOLE: EntryKind = {
  path: 'splices/whole',
  right: (world, nth) => ({
    splice: { id: uuidv7(), ...splice(world, nth + 100_000) }, welds: [{ id: uuidv7(), ...weldOf(world) }, { id: uuidv7(), ...weldOf(world) }], steps: [{ id: uuidv7(), ...stepOf() }],
  }),
  faults: [
    outOfForm('splice.angleDeg', '5', '45,5'), outOfForm('welds[0].readings[0].variable', 'amps'), outOfForm('steps[0].outcome', 'ok'), outOfForm('welds[1].observedAt', '2026-02-30T08:00:00Z'),
    outOfForm('welds[0].spliceId', '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b0c'), outOfForm('steps[0].readings[0].max', '0,5'),
    impossible('a weld without an id', 'welds[0].id', () => undefined),
    impossible('one id twice', 'steps[0].id', (_, __, entry) => (entry['splice'] as Fields)['id']),
    contradiction('a square hand of a slanted weld', 'splice.hand', () => 'square', { touches: ['splice.angleDeg'] }),
    contradiction('a doubt that the verdict has not', 'splice.doubt', () => 'Film unclear'),
    ...leadsNowhere('splice.enteringCoilId', ['voidCoilId']),
    atWrite('a number taken', 'splice.number', () => 'S-X0'),
    inPart(1, impossible('a current that no weld has', 'welds[0].readings[0].printed', oneOf('205,0', '-205', '25000'))),
    inPart(1, impossible('digits that are none', 'steps[0].readings[0].printed', oneOf('0,2', '--'))),
    inPart(1, impossible('a voltage in amperes', 'welds[1].readings[1].unit', oneOf('A', 'mm'))),
    inPart(1, contradiction('a station of no sighting', 'steps[0].station', () => 'UT')),
    ...leadsNowhere('welds[0].weldProcedureId', ['voidProcedureId']).map((fault) => inPart(1, fault)),
    ...leadsNowhere('welds[1].readings[1].instrumentId', ['voidGaugeId']).map((fault) => inPart(1, fault)),
    ...leadsNowhere('steps[0].examinations[1].personId', ['gaugeId']).map((fault) => inPart(1, fault)),
  ],
};

/** Splices and re-joins, how they were welded, and what was done to them. */
export const WELDING_ENTRIES: readonly EntryKind[] = [SPLICES, WELDS, STEPS, REJOINS, WHOLE];
