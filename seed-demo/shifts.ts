import { entered, type Step } from './step.js';

const STRING = { stringId: '@string 2' };
const FRIDAY = 'day 2026-03-06';
const SATURDAY = 'day 2026-03-07';
const member = (key: string, duty: string): { personId: string; duty: string } => ({ personId: `@${key}`, duty });
const LINE_CREW = [member('jorun', 'Welder'), member('teodor', 'Seam operator')];

const shifts: readonly Step[] = [
  entered('ilka', 'shifts', FRIDAY, {
    observedAt: '2026-03-06T06:00:00Z', ...STRING, name: FRIDAY, until: '2026-03-06T18:00:00Z', crew: [member('ilka', 'Shift lead'), ...LINE_CREW], weather: 'Fog until nine, 3 °C',
  }),
  entered('piet', 'shifts', SATURDAY, {
    observedAt: '2026-03-07T06:00:00Z', ...STRING, name: SATURDAY, until: '2026-03-07T18:00:00Z', crew: [member('piet', 'Shift lead'), ...LINE_CREW], weather: 'Dry, 6 °C',
  }),
];

const events: readonly Step[] = [
  entered('ilka', 'shift-events', 'gauge moved', {
    observedAt: '2026-03-06T06:30:00Z', ...STRING, shiftId: `@${FRIDAY}`, category: 'equipment', text: 'Diameter gauge moved 1.5 m down the line, clear of the cooling spray',
    about: { kind: 'line-setup', id: '@set-up 2' },
  }),
  entered('piet', 'shift-events', 'visit of the purchaser', {
    observedAt: '2026-03-07T11:00:00Z', ...STRING, shiftId: `@${SATURDAY}`, category: 'visitor', text: "Purchaser's representative at the cutting bench, 11:00 to 11:40",
  }),
];

/** The first is taken over item by item, one of them refused; to the second nobody has said anything. */
const handovers: readonly Step[] = [
  entered('ilka', 'handovers', 'handover of Friday', {
    observedAt: '2026-03-06T17:40:00Z', ...STRING, shiftId: `@${FRIDAY}`,
    items: [
      { words: 'Splice S-5 in doubt: its hardness was read with block RB-250, whose certificate has run out', about: { kind: 'splice', id: '@S-5' } },
      { words: 'Counter began again at zero in the night; footage goes by the new period' },
      { words: 'Hardness block with a certificate that holds is to come' },
    ],
  }),
  {
    step: 'amendment', by: 'rasmus', kind: 'handovers', of: 'handover of Friday', recordedAt: '2026-03-07T06:08:00Z', reason: 'The next shift is on record now.',
    changes: { nextShiftId: `@${SATURDAY}` },
  },
  entered('piet', 'handover-acceptances', 'acceptance of Friday', {
    observedAt: '2026-03-07T06:10:00Z', ...STRING, handoverId: '@handover of Friday', handoverVersion: 2,
    items: [
      { item: 1, accepted: true, words: 'Seen on the chart' }, { item: 2, accepted: true }, { item: 3, accepted: false, words: 'Not said from whom, or until when' },
    ],
  }),
  entered('piet', 'handovers', 'handover of Saturday', {
    observedAt: '2026-03-07T17:45:00Z', ...STRING, shiftId: `@${SATURDAY}`,
    items: [{ words: 'Film 3 of the second re-join is fogged and has to be taken again', about: { kind: 'rejoin', id: '@re-join 2' } }],
  }),
];

/** Two days in the life of the crew. */
export const SHIFTS: readonly Step[] = [...shifts, ...events, ...handovers];
