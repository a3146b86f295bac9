import type { EntryKind, Fields } from './bad-entries.js';
import { agreement, atWrite, contradiction, EVERYWHERE, leadsNowhere, oneOf, outOfForm, reference } from './entry-faults.js';

const clock = (days: number, hour: number): string => new Date(Date.UTC(2020, 0, 1 + days, hour)).toISOString();

const SHIFTS: EntryKind = {
  path: 'shifts',
  right: ({ stringId, personId, mateId }, nth) => ({
    stringId, name: 'day', observedAt: clock(nth, 6), until: clock(nth, 14), crew: [{ personId, duty: 'Shift lead' }, { personId: mateId, duty: 'Line operator' }], weather: 'Rain',
  }),
  faults: [
    ...EVERYWHERE,
    outOfForm('crew', [], null, {}), outOfForm('crew[0].duty', '', ' '), outOfForm('until', '2026-03-02 14:00', '14:00', '2026-02-30T14:00:00Z'), outOfForm('name', ' ', 7),
    contradiction('it ends before it begins', 'until', oneOf('2019-12-31T23:00:00Z', '2001-01-01T00:00:00Z'), { touches: ['observedAt'] }),
    contradiction('somebody twice', 'crew[1].personId', ({ personId }) => personId, { touches: ['crew', 'crew[0].personId'] }),
    ...leadsNowhere('crew[1].personId', ['gaugeId'], { touches: ['crew'] }), ...leadsNowhere('crew[0].personId', ['stringId'], { touches: ['crew'] }), ...leadsNowhere('stringId', ['shiftId']),
  ],
};

const EVENTS: EntryKind = {
  path: 'shift-events',
  right: ({ stringId, shiftId, spliceId }) => ({ observedAt: '2026-03-02T08:15:00Z', stringId, shiftId, category: 'visitor', text: 'Inspector at the line', about: { kind: 'splice', id: spliceId } }),
  faults: [
    ...EVERYWHERE,
    outOfForm('category', 'gossip', 'Visitor', null), outOfForm('text', '', '  ', 'x\u0000'), outOfForm('about.kind', 'cake', 'Splice'), outOfForm('shiftId', 'day', 1),
    ...leadsNowhere('shiftId', ['voidShiftId', 'shiftElsewhereId', 'spliceId']),
    ...leadsNowhere('about.id', ['voidSpliceId', 'spliceElsewhereId', 'shiftId'], { touches: ['about.kind'] }),
    ...leadsNowhere('about.id', ['spliceId'], { touches: ['about.kind'], besides: () => ({ 'about.kind': 'weld' }) }).slice(1).map((fault) => ({ ...fault, name: 'a weld that is a splice' })),
  ],
};

const HANDOVERS: EntryKind = {
  path: 'handovers',
  right: ({ stringId, shiftId, nextShiftId }) => ({ observedAt: '2026-03-02T17:50:00Z', stringId, shiftId, nextShiftId, items: [{ words: 'Film unclear', footageMm: 212_000 }, { words: 'Gauge is away' }] }),
  faults: [
    ...EVERYWHERE,
    outOfForm('items[0].words', ' ', '', null), outOfForm('items[1].footageMm', -1, 1.5, '212 m'), outOfForm('items', null, 'nothing'), outOfForm('nextShiftId', 'night', 2),
    contradiction('to its own shift', 'nextShiftId', ({ shiftId }) => shiftId, { touches: ['shiftId'] }),
    ...leadsNowhere('shiftId', ['voidShiftId', 'spliceId']), ...leadsNowhere('nextShiftId', ['shiftElsewhereId', 'handoverId']),
    reference('an item about nothing', 'items[1].about', (_, __, entry) => ({ kind: 'weld', id: entry['shiftId'] }), {
      touches: ['items', 'shiftId'], named: (value) => [{ field: 'items[1].about.id', value: (value as Fields)['id'] }],
    }),
  ],
};

/** Items are held against the version that stands: another version read is told alone, so it is never drawn with their faults. */
const ITEMS = ['items', 'items[0]', 'items[1]'];

const ACCEPTANCES: EntryKind = {
  path: 'handover-acceptances',
  right: ({ stringId, handoverId, spareHandoverId, mateId }, nth) => ({
    observedAt: '2026-03-02T17:55:00Z', stringId, handoverId: nth === 0 ? handoverId : spareHandoverId, handoverVersion: 1, doneBy: mateId,
    items: [{ item: 1, accepted: true, words: 'Seen on the pipe' }, { item: 2, accepted: true }],
  }),
  faults: [
    ...EVERYWHERE,
    outOfForm('handoverVersion', 0, -1, '1', 1.5), outOfForm('items[0].item', 0, -1, 201, '1'), outOfForm('items[1].accepted', 'yes', 1, null), outOfForm('handoverId', 'yesterday', 4),
    agreement('by who gave it', 'doneBy', ({ personId }) => personId, { touches: ['handoverId'] }),
    agreement('an item left out', 'items', () => [{ item: 1, accepted: true }], { touches: [...ITEMS, 'items[0].item', 'items[1].accepted', 'handoverId'], named: () => [{ field: 'items', value: [1] }] }),
    agreement('an item twice', 'items[1]', () => ({ item: 1, accepted: true }), {
      touches: ['items', 'items[0].item', 'items[1].accepted', 'handoverId'], named: () => [{ field: 'items[1].item', value: 1 }, { field: 'items', value: [1, 1] }],
    }),
    agreement('an item that is not there', 'items[1]', () => ({ item: 9, accepted: true }), {
      touches: ['items', 'items[0].item', 'items[1].accepted', 'handoverId'], named: () => [{ field: 'items[1].item', value: 9 }, { field: 'items', value: [1, 9] }],
    }),
    agreement('refused without a word', 'items[0]', () => ({ item: 1, accepted: false }), { touches: ['items', 'items[0].item', 'handoverId'], named: () => [{ field: 'items[0].words', value: null }] }),
    ...leadsNowhere('handoverId', ['voidHandoverId', 'handoverElsewhereId', 'shiftId']),
    atWrite('another version', 'handoverVersion', oneOf(2, 7), { touches: [...ITEMS, 'handoverId'] }),
    atWrite('accepted already', 'handoverId', ({ handoverId }) => handoverId, { touches: ['handoverVersion'] }),
  ],
};

/** Who was there, what happened, and what was handed over and accepted. */
export const SHIFT_ENTRIES: readonly EntryKind[] = [SHIFTS, EVENTS, HANDOVERS, ACCEPTANCES];
