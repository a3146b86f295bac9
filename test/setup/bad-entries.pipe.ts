import type { EntryFault, EntryKind, Fields } from './bad-entries.js';
import { agreement, atWrite, contradiction, EVERYWHERE, impossible, leadsNowhere, oneOf, outOfForm, reference } from './entry-faults.js';

const AT = '2026-03-02T12:15:00Z';
const PAST_END_MM = 4_000_001;

/** What can be wrong with an interval of pipe from 10,000 mm to 11,000 mm. */
export const INTERVAL: readonly EntryFault[] = [
  outOfForm('from.footageMm', -5, 1.5, '10000', 100_000_001),
  contradiction('nowhere', 'from', () => ({}), { touches: ['from.footageMm', 'to'], named: () => [{ field: 'from', value: null }] }),
  contradiction('a reading beside a footage', 'to.counterReading', oneOf('11000', '12'), { touches: ['to'] }),
  contradiction('a station beside a footage', 'from.station', () => 'wall gauge', { touches: ['from', 'from.footageMm'] }),
  contradiction('it ends before it begins', 'to', oneOf({ footageMm: 9_999 }, { footageMm: 10_000 }, { footageMm: 0 }), {
    touches: ['from', 'from.footageMm', 'to.counterReading'], named: (value) => [{ field: 'to', value: (value as Fields)['footageMm'] }],
  }),
  agreement('a reading of no counter', 'from', () => ({ counterReading: '10000' }), {
    touches: ['from.footageMm', 'from.station', 'to'], named: () => [{ field: 'from.counterReading', value: '10000' }],
  }),
  atWrite('past the end of the string', 'to', () => ({ footageMm: PAST_END_MM }), {
    touches: ['from', 'from.footageMm', 'to.counterReading'], status: 422, named: () => [{ field: 'to', value: PAST_END_MM }],
  }),
];

const PHOTOS: readonly EntryFault[] = [
  impossible('a photo that is no file', 'photoSha256s', () => ['IMG_2041.jpg'], { named: () => [{ field: 'photoSha256s[0]', value: 'IMG_2041.jpg' }] }),
  reference('a photo that nobody sent', 'photoSha256s', () => ['0'.repeat(64)], { named: () => [{ field: 'photoSha256s[0]', value: '0'.repeat(64) }] }),
];

const CURRENT = [{ variable: 'current', printed: '205', unit: 'A' }];
const WELD_FIELDS = ['method', 'weldProcedureId', 'readings', 'chosen', 'fillerBatch'];

const REPAIRS: EntryKind = {
  path: 'repairs',
  right: ({ stringId, gaugeId, inspectionId }) => ({
    observedAt: AT, stringId, from: { footageMm: 10_000 }, to: { footageMm: 11_000 }, method: 'grinding', found: 'Scratch 0.3 mm deep', depthRemovedMm: '0.35', remainingWallMm: '4.62',
    wallLimitMm: '4.50', instrumentId: gaugeId, inspectionId, readings: [], chosen: [], photoSha256s: [],
  }),
  faults: [
    ...EVERYWHERE, ...INTERVAL, ...PHOTOS,
    outOfForm('depthRemovedMm', '-0.35', '0,35', '120', '0.35 mm'), outOfForm('method', 'glue', 'Grinding'), outOfForm('found', '', ' '), outOfForm('remainingWallMm', '-4.62', '4,62', '462'),
    impossible('digits that are none', 'readings', () => [{ variable: 'voltage', printed: '24,1', unit: 'V' }], { named: () => [{ field: 'readings[0].printed', value: '24,1' }] }),
    impossible('a voltage in amperes', 'readings', () => [{ variable: 'voltage', printed: '24.1', unit: 'A' }], { named: () => [{ field: 'readings[0].unit', value: 'A' }] }),
    contradiction('both a splice and a re-join', 'rejoinId', ({ rejoinId }) => rejoinId, { touches: ['spliceId'], besides: ({ spliceId }) => ({ spliceId }) }),
    contradiction('a limit of no wall', 'remainingWallMm', () => null, { touches: ['depthRemovedMm', 'instrumentId'], named: () => [{ field: 'wallLimitMm', value: '4.50' }] }),
    contradiction('an instrument that measured nothing', 'depthRemovedMm', () => null, {
      touches: ['remainingWallMm', 'instrumentId'], besides: () => ({ remainingWallMm: null, wallLimitMm: null }), named: (_, { gaugeId }) => [{ field: 'instrumentId', value: gaugeId }],
    }),
    contradiction('a filler where nothing was welded', 'fillerBatch', () => 'FB-4471', { touches: ['method'] }),
    contradiction('a procedure where nothing was welded', 'weldProcedureId', ({ repairProcedureId }) => repairProcedureId, { touches: ['method'] }),
    contradiction('readings where nothing was welded', 'readings', () => CURRENT, { touches: ['method'] }),
    contradiction('a process where nothing was welded', 'chosen', () => [{ choice: 'process', value: '141' }], { touches: ['method'] }),
    contradiction('a weld-repair without a procedure', 'method', () => 'weld-repair', { touches: WELD_FIELDS, named: () => [{ field: 'weldProcedureId', value: null }] }),
    ...leadsNowhere('instrumentId', ['voidGaugeId', 'spliceId']), ...leadsNowhere('inspectionId', ['inspectionElsewhereId']), ...leadsNowhere('nonconformanceId', ['gaugeId']),
    ...leadsNowhere('spliceId', ['spliceElsewhereId', 'voidSpliceId', 'rejoinId']), ...leadsNowhere('rejoinId', ['rejoinElsewhereId'], { touches: ['spliceId'] }),
    ...leadsNowhere('weldProcedureId', ['voidProcedureId'], { touches: WELD_FIELDS.slice(2), besides: () => ({ method: 'weld-repair' }) }).map((fault) => ({ ...fault, touches: [...fault.touches, 'method'] })),
  ],
};

const STAND_IN = ['standsInFor', 'standInReason', 'standInBy', 'method'];

const EXAMINATIONS: EntryKind = {
  path: 'examinations',
  right: ({ stringId, gaugeId, repairId }) => ({
    observedAt: AT, stringId, from: { footageMm: 10_000 }, to: { footageMm: 11_000 }, method: 'UT', technique: 'UT-04 rev 2', reflector: 'notch-outside', reflectorSizeMm: '0.50', outcome: 'accepted',
    standsInFor: [], repairId, instrumentId: gaugeId, photoSha256s: [],
  }),
  faults: [
    ...EVERYWHERE, ...INTERVAL, ...PHOTOS,
    outOfForm('reflectorSizeMm', '0', '-0.5', '0,5', '101'), outOfForm('reflector', 'notch', 'N5'), outOfForm('method', 'US', 'ut'), outOfForm('outcome', 'fine', 'pass'), outOfForm('standsInFor', ['XX'], 'RT', ['RT', 'rt']),
    contradiction('a reflector of no size', 'reflectorSizeMm', () => null, { touches: ['reflector'] }),
    contradiction('a size of no reflector', 'reflector', () => null, { touches: ['reflectorSizeMm'] }),
    contradiction('of a splice and of a repair', 'spliceId', ({ spliceId }) => spliceId, { touches: ['repairId', 'rejoinId'], named: (_, { repairId }) => [{ field: 'repairId', value: repairId }] }),
    contradiction('of a re-join and of a repair', 'rejoinId', ({ rejoinId }) => rejoinId, { touches: ['repairId', 'spliceId'], named: (_, { repairId }) => [{ field: 'repairId', value: repairId }] }),
    contradiction('in place of its own method', 'standsInFor', () => ['UT'], { touches: STAND_IN, besides: ({ mateId }) => ({ standInReason: 'No film', standInBy: mateId }) }),
    contradiction('in place of another without a reason', 'standInReason', () => null, { touches: STAND_IN, besides: ({ mateId }) => ({ standsInFor: ['RT'], standInBy: mateId }) }),
    contradiction('in place of another by nobody', 'standInBy', () => null, { touches: STAND_IN, besides: () => ({ standsInFor: ['RT'], standInReason: 'No film' }) }),
    contradiction('in place of another by the own word', 'standInBy', ({ personId }) => personId, { touches: [...STAND_IN, 'doneBy'], besides: () => ({ standsInFor: ['RT'], standInReason: 'No film' }) }),
    contradiction('a reason to stand in for nothing', 'standInReason', () => 'No film', { touches: STAND_IN }),
    ...leadsNowhere('repairId', ['voidRepairId', 'repairElsewhereId', 'spliceId'], { touches: ['spliceId', 'rejoinId'] }), ...leadsNowhere('instrumentId', ['voidGaugeId']),
    ...leadsNowhere('spliceId', ['spliceElsewhereId'], { touches: ['repairId', 'rejoinId'], besides: () => ({ repairId: null }) }),
    ...leadsNowhere('standInBy', ['gaugeId'], { touches: STAND_IN, besides: () => ({ standsInFor: ['RT'], standInReason: 'No film' }) }),
  ],
};

const SEAM_EVENTS: EntryKind = {
  path: 'seam-events',
  right: ({ stringId, seamProcedureId }) => ({
    observedAt: AT, stringId, from: { footageMm: 52_000 }, event: 'stop', weldProcedureId: seamProcedureId, cause: 'Strip caught at the entry guide',
    readings: [{ variable: 'power', printed: '182', unit: 'kW' }, { variable: 'line-speed', printed: '12.0', unit: 'm/min' }],
  }),
  faults: [
    ...EVERYWHERE,
    outOfForm('event', 'pause', 'Stop', ''), outOfForm('from.footageMm', -1, 0.5, '52000'), outOfForm('readings[0].unit', 'horsepower', 'kw'), outOfForm('cause', ' ', 12), outOfForm('weldProcedureId', 'WP-2', 7),
    impossible('a power that no seam has', 'readings[0].printed', oneOf('182,5', '3000', '-1', '182 kW', '1.8.2')),
    impossible('a speed in kilowatts', 'readings[1].unit', oneOf('kW', 'mm', 'Hz'), { touches: ['readings[1].printed'] }),
    impossible('a speed that no line has', 'readings[1].printed', oneOf('300', '-61', '12,0', 'fast'), { touches: ['readings[1].unit'] }),
    contradiction('a stop without a cause', 'cause', oneOf(null, undefined), { touches: ['event'] }),
    contradiction('at a station', 'from.station', () => 'wall gauge', { touches: ['from'] }),
    contradiction('nowhere', 'from', () => ({}), { touches: ['from.footageMm'], named: () => [{ field: 'from', value: null }] }),
    contradiction('a reading beside a footage', 'from.counterReading', () => '52000', { touches: ['from'] }),
    ...leadsNowhere('weldProcedureId', ['voidProcedureId', 'gaugeId']), ...leadsNowhere('readings[0].instrumentId', ['voidGaugeId']),
    agreement('a string of nothing', 'stringId', ({ gaugeId }) => gaugeId),
    agreement('a reading of no counter', 'from', () => ({ counterReading: '52000' }), { touches: ['stringId', 'from.footageMm'], named: () => [{ field: 'from.counterReading', value: '52000' }] }),
    atWrite('past the end of the string', 'from.footageMm', () => PAST_END_MM, { touches: ['from'], status: 422, named: () => [{ field: 'from', value: PAST_END_MM }] }),
  ],
};

/** Repairs, examinations, and what happened to the seam weld. */
export const PIPE_ENTRIES: readonly EntryKind[] = [REPAIRS, EXAMINATIONS, SEAM_EVENTS];
