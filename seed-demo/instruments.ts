import { entered, later, type Fields, type Step } from './step.js';

/** Before the delivery: what strip is measured with. */
const FIRST = '2026-02-16T09:00:00Z';
const WORKSHOP = 'Site measuring room';

const INSTRUMENTS: readonly (Fields & { number: string; from: string })[] = [
  { from: FIRST, number: 'MI-07', kind: 'gauge', name: 'Micrometer, ball anvil', measures: ['thickness', 'wall thickness'], unit: 'mm', rangeMin: '0', rangeMax: '25', resolution: '0.001' },
  { from: later(FIRST, 4), number: 'BG-02', kind: 'gauge', name: 'Bridge gauge', measures: ['high-low'], unit: 'mm', rangeMin: '0', rangeMax: '10', resolution: '0.05' },
  { from: later(FIRST, 8), number: 'HT-2', kind: 'gauge', name: 'Hardness tester, portable', measures: ['hardness'], unit: 'HV10', resolution: '1' },
  { from: later(FIRST, 12), number: 'RB-250', kind: 'reference-standard', name: 'Hardness block, nominal 250 HV10', measures: ['hardness'], unit: 'HV10' },
  { from: later(FIRST, 16), number: 'WM-1', kind: 'line-instrument', name: 'Weld monitor of the seam, the splice and the cutting bench', measures: ['current', 'voltage', 'power', 'speed'], unit: 'A' },
  { from: '2026-03-02T14:00:00Z', number: 'RT-1', kind: 'reference-standard', name: 'Reference tube with a notch and a thin step', measures: ['notch depth', 'wall thickness'], unit: 'mm' },
  { from: '2026-03-07T09:00:00Z', number: 'RB-251', kind: 'reference-standard', name: 'Hardness block, nominal 250 HV10', measures: ['hardness'], unit: 'HV10' },
];

const instruments = INSTRUMENTS.map(({ from, number, ...fields }) => entered('rasmus', 'instruments', number, { observedAt: from, number, ...fields }));

const point = (at: string, deviation: string, tolerance: string, unit: string, expandedU: string): Fields[] =>
  [{ point: at, deviation, min: `-${tolerance}`, max: tolerance, unit, expandedU }];
const bridge = (deviation: string): Fields[] => point('0.50 mm', deviation, '0.05', 'mm', '0.01');
const hardness = (deviation: string): Fields[] => point('250 HV10', deviation, '10', 'HV10', '4');

interface Calibrated {
  readonly instrument: string;
  /** When it was read or adjusted; on record with the instrument, or the same day. */
  readonly at: string;
  readonly certificate: string;
  readonly enteredAt?: string;
  readonly fields: Fields;
}

const CALIBRATIONS: readonly Calibrated[] = [
  {
    instrument: 'MI-07', at: '2026-01-12T09:00:00Z', certificate: 'CAL-2026-004', enteredAt: '2026-02-16T09:40:00Z',
    fields: { asFound: point('5.00 mm', '0.002', '0.005', 'mm', '0.001'), dueOn: '2027-01-11' },
  },
  {
    instrument: 'WM-1', at: '2025-11-18T10:00:00Z', certificate: 'CAL-2025-071', enteredAt: '2026-02-16T09:44:00Z',
    fields: { asFound: point('200 A', '1.2', '4', 'A', '1'), dueOn: '2026-11-17' },
  },
  {
    instrument: 'RB-250', at: '2024-03-05T10:00:00Z', certificate: 'CB-24-0312', enteredAt: '2026-02-16T09:48:00Z',
    fields: { laboratory: 'Hardness laboratory of the trade chamber', asFound: point('250 HV10', '0', '5', 'HV10', '3'), dueOn: '2026-03-05' },
  },
  {
    instrument: 'RT-1', at: '2025-12-09T10:00:00Z', certificate: 'CT-25-0141', enteredAt: '2026-03-02T14:10:00Z',
    fields: { laboratory: 'Length laboratory of the trade chamber', asFound: point('4.60 mm', '0.00', '0.02', 'mm', '0.01'), dueOn: '2027-12-08' },
  },
  { instrument: 'BG-02', at: '2026-03-02T05:40:00Z', certificate: 'CAL-2026-018', fields: { asFound: bridge('0.02'), dueOn: '2026-06-01' } },
  { instrument: 'HT-2', at: '2026-03-02T05:50:00Z', certificate: 'CAL-2026-019', fields: { referenceInstrumentId: '@RB-250', asFound: hardness('3'), dueOn: '2026-03-31' } },
  // The day before was the last of the block's certificate.
  { instrument: 'HT-2', at: '2026-03-06T07:20:00Z', certificate: 'CAL-2026-021', fields: { referenceInstrumentId: '@RB-250', asFound: hardness('2'), dueOn: '2026-03-31' } },
  {
    instrument: 'RB-251', at: '2025-11-03T10:00:00Z', certificate: 'CB-25-0877', enteredAt: '2026-03-07T09:10:00Z',
    fields: { laboratory: 'Hardness laboratory of the trade chamber', asFound: point('250 HV10', '0', '5', 'HV10', '3'), dueOn: '2027-11-02' },
  },
  { instrument: 'HT-2', at: '2026-03-09T07:10:00Z', certificate: 'CAL-2026-023', fields: { referenceInstrumentId: '@RB-251', asFound: hardness('3'), dueOn: '2026-04-08' } },
  // A week after it was found good: its foot is worn. Adjusted.
  {
    instrument: 'BG-02', at: '2026-03-09T15:30:00Z', certificate: 'CAL-2026-024',
    fields: { asFound: bridge('0.08'), asLeft: bridge('0.01'), dueOn: '2026-06-08', note: 'Foot worn; dressed and set anew.' },
  },
];

const calibrations = CALIBRATIONS.map(({ instrument, at, certificate, enteredAt, fields }): Step => {
  const entry = entered('rasmus', 'calibrations', certificate, {
    observedAt: at, instrumentId: `@${instrument}`, certificateNumber: certificate, laboratory: WORKSHOP, decisionRule: 'simple-acceptance', ...fields,
  });
  return enteredAt === undefined ? entry : { ...entry, recordedAt: enteredAt };
});

/** What was measured with, and when it was found good or not. */
export const INSTRUMENTS_AND_CALIBRATIONS: readonly Step[] = [...instruments, ...calibrations];
