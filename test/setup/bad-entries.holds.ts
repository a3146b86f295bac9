import type { EntryKind, Fields } from './bad-entries.js';
import { INTERVAL } from './bad-entries.pipe.js';
import { agreement, atWrite, contradiction, EVERYWHERE, leadsNowhere, oneOf, outOfForm, reference } from './entry-faults.js';

const AT = '2026-03-02T12:15:00Z';

const PLANS: EntryKind = {
  path: 'control-plans',
  right: ({ stringId, channelId }, nth) => ({
    observedAt: AT, stringId, document: 'CP-3', revision: '2', fromMm: nth * 1_000,
    items: [
      { code: 'N-1', clause: '5.2', demands: 'channel-inspected', at: 'pipe', exceptAt: [{ at: 'splices', marginMm: 300 }], channelId },
      { code: 'D-1', clause: '5.4', demands: 'dimension', at: 'pipe', characteristic: 'wall thickness', reachMm: 6_000 },
      { code: 'S-1', clause: '6.1', demands: 'splice-accepted', at: 'splices', marginMm: 0 }, { code: 'T-1', clause: '6.4', demands: 'destructive-tests', at: 'pipe', test: 'flaring' },
      { code: 'P-1', clause: '7.1', demands: 'point', at: 'lead-end', marginMm: 2_000, point: 'witness' },
    ],
  }),
  faults: [
    ...EVERYWHERE,
    outOfForm('document', '', ' ', 5), outOfForm('fromMm', -1, 1.5, '0', null), outOfForm('items[0].code', 'n-1', 'N 1', '-N', 'N'.repeat(21), null), outOfForm('items[1].demands', 'peace', null),
    outOfForm('items[2].at', 'splice', null), outOfForm('items[4].point', 'stop', 1), outOfForm('items[0].exceptAt[0].at', 'pipe', null), outOfForm('items[1].reachMm', 0, -1, '6000'), outOfForm('items[3].test', 'bend', 5),
    contradiction('a code twice', 'items[3].code', () => 'N-1', { touches: ['items[0].code'] }),
    contradiction('a joint without a margin', 'items[2].marginMm', () => null, { touches: ['items[2].at'] }),
    contradiction('a margin of pipe', 'items[1].marginMm', oneOf(0, 5)), contradiction('an end without length', 'items[4].marginMm', () => 0),
    contradiction('a splice accepted anywhere', 'items[2].at', () => 'pipe', { touches: ['items[2].marginMm'], named: () => [{ field: 'items[2].at', value: 'pipe' }, { field: 'items[2].marginMm', value: 0 }] }),
    contradiction('a re-join accepted at a splice', 'items[2].demands', () => 'rejoin-accepted', { touches: ['items[2].at'], named: () => [{ field: 'items[2].at', value: 'splices' }] }),
    contradiction('an exception of an end', 'items[4].exceptAt', () => [{ at: 'splices', marginMm: 5 }]),
    contradiction('an exception twice', 'items[0].exceptAt', () => [{ at: 'splices', marginMm: 5 }, { at: 'splices', marginMm: 300 }], { named: () => [{ field: 'items[0].exceptAt[1].at', value: 'splices' }] }),
    contradiction('an exception at an end without length', 'items[3].exceptAt', () => [{ at: 'tail-end', marginMm: 0 }], { named: () => [{ field: 'items[3].exceptAt[0].marginMm', value: 0 }] }),
    contradiction('inspected by no channel', 'items[0].channelId', () => null), contradiction('a channel of a test', 'items[3].channelId', ({ channelId }) => channelId),
    contradiction('a dimension of nothing', 'items[1].characteristic', () => null), contradiction('a dimension of no reach', 'items[1].reachMm', () => null),
    contradiction('a test of a dimension', 'items[1].test', oneOf('macro', 'tensile')), contradiction('a point of no kind', 'items[4].point', () => null),
    ...leadsNowhere('items[0].channelId', ['voidChannelId', 'channelElsewhereId', 'gaugeId']),
    ...leadsNowhere('stringId', ['planId'], { touches: ['items'], named: (value, { channelId }) => [{ field: 'stringId', value }, { field: 'items[0].channelId', value: channelId }] }),
    atWrite('a footage taken', 'fromMm', () => 0, { touches: ['stringId'] }),
  ],
};

const CODE = outOfForm('itemCode', 'p-1', 'P 1', null, 5);

const ATTENDANCES: EntryKind = {
  path: 'attendances',
  right: ({ stringId }) => ({
    observedAt: AT, stringId, from: { footageMm: 10_000 }, to: { footageMm: 11_000 }, itemCode: 'P-1', outcome: 'accepted', attendedBy: [{ name: 'Edda Voss', party: 'customer' }],
  }),
  faults: [
    ...EVERYWHERE, ...INTERVAL, CODE,
    outOfForm('outcome', 'fine', 'Accepted', null), outOfForm('attendedBy', [], null, 'Edda Voss'), outOfForm('attendedBy[0].name', '', ' ', null), outOfForm('attendedBy[0].party', 'press', null),
    contradiction('not accepted without a word', 'outcome', () => 'not-accepted', { touches: ['note'], named: () => [{ field: 'note', value: null }] }),
    reference('a point of no plan', 'itemCode', oneOf('P-7', 'N-1'), { touches: ['stringId'] }),
  ],
};

const WAIVERS: EntryKind = {
  path: 'evidence-waivers',
  right: ({ stringId, concededId }) => ({
    observedAt: AT, stringId, from: { footageMm: 10_000 }, to: { footageMm: 11_000 }, itemCode: 'N-1', basis: 'concession', agreedBy: 'Edda Voss, for the customer', agreement: 'Letter of 1 March 2026',
    grounds: 'Looked at again', nonconformanceId: concededId,
  }),
  faults: [
    ...EVERYWHERE, ...INTERVAL, CODE,
    outOfForm('basis', 'favour', null), outOfForm('agreedBy', '', ' ', 3, null), outOfForm('agreement', '', null), outOfForm('grounds', '', ' ', null),
    contradiction('a concession of nothing', 'nonconformanceId', () => null, { touches: ['basis'] }),
    contradiction('a nonconformance of what was agreed before', 'basis', () => 'waiver', { touches: ['nonconformanceId'], named: (_, { concededId }) => [{ field: 'nonconformanceId', value: concededId }] }),
    reference('an item of no plan', 'itemCode', oneOf('Z-1', 'N'), { touches: ['stringId'] }),
    ...leadsNowhere('nonconformanceId', ['concededElsewhereId', 'gaugeId'], { touches: ['basis'] }),
    agreement('a nonconformance that nobody conceded', 'nonconformanceId', ({ unconcededId }) => unconcededId, { touches: ['basis'] }),
  ],
};

const HOLDS: EntryKind = {
  path: 'holds',
  right: ({ stringId, farCoilId, spliceId }) => ({
    observedAt: AT, stringId, cause: 'Wall below minimum', intervals: [{ from: { footageMm: 10_000 }, to: { footageMm: 11_000 } }], coilIds: [farCoilId], spliceIds: [spliceId],
  }),
  faults: [
    ...EVERYWHERE,
    outOfForm('cause', '', ' ', null), outOfForm('intervals', null, 'all', 5), outOfForm('coilIds', null, 'LM-01', ['LM-01']), outOfForm('spliceIds', null, ['S-3']), outOfForm('intervals[0].from.footageMm', -5, 1.5, '10000'),
    contradiction('of nothing', 'intervals', () => [], { touches: ['coilIds', 'spliceIds'], besides: () => ({ coilIds: [], spliceIds: [] }) }),
    contradiction('an interval the wrong way', 'intervals[0].to', oneOf({ footageMm: 9_999 }, { footageMm: 10_000 }), {
      touches: ['intervals[0].from'], named: (value) => [{ field: 'intervals[0].to', value: (value as Fields)['footageMm'] }],
    }),
    contradiction('an interval nowhere', 'intervals[0].from', () => ({}), { touches: ['intervals[0].to'], named: () => [{ field: 'intervals[0].from', value: null }] }),
    contradiction('a coil twice', 'coilIds', ({ farCoilId }) => [farCoilId, farCoilId], { named: (_, { farCoilId }) => [{ field: 'coilIds[1]', value: farCoilId }] }),
    contradiction('a splice twice', 'spliceIds', ({ spliceId }) => [spliceId, spliceId], { named: (_, { spliceId }) => [{ field: 'spliceIds[1]', value: spliceId }] }),
    agreement('a reading of no counter', 'intervals[0].from', () => ({ counterReading: '10000' }), { touches: ['intervals[0].to'], named: () => [{ field: 'intervals[0].from.counterReading', value: '10000' }] }),
    ...leadsNowhere('coilIds[0]', ['voidCoilId', 'gaugeId']), ...leadsNowhere('spliceIds[0]', ['voidSpliceId', 'spliceElsewhereId', 'cutOutId']),
    atWrite('past the end of the string', 'intervals[0].to', () => ({ footageMm: 4_000_001 }), {
      touches: ['intervals'], status: 422, named: (_, __, entry) => [{ field: 'intervals', value: entry['intervals'] }],
    }),
  ],
};

const LIFTINGS: EntryKind = {
  path: 'hold-liftings',
  right: ({ stringId, holdId, spareHoldId }, nth) => ({ observedAt: AT, stringId, holdId: nth === 0 ? holdId : spareHoldId, grounds: 'Extent measured', evidence: 'NC-0007' }),
  faults: [
    ...EVERYWHERE,
    outOfForm('grounds', '', ' ', null), outOfForm('evidence', '', null, 7), outOfForm('holdId', 'H-1', 5, null), outOfForm('ownHoldBecause', '', ' ', 1),
    agreement('by who set it', 'doneBy', ({ mateId }) => mateId, { touches: ['holdId', 'ownHoldBecause'] }),
    ...leadsNowhere('holdId', ['voidHoldId', 'holdElsewhereId', 'shiftId']),
    atWrite('lifted already', 'holdId', ({ holdId }) => holdId),
  ],
};

/** Control plans, points that were kept, what was agreed not to be needed, and holds until they are lifted. */
export const HOLD_ENTRIES: readonly EntryKind[] = [PLANS, ATTENDANCES, WAIVERS, HOLDS, LIFTINGS];
