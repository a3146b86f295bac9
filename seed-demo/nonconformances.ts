import { STATIONS } from './line.js';
import { readingOf, timeOf } from './runs.js';
import { entered, later, type Step } from './step.js';

const PLAN = { document: 'Pipe inspection plan', revision: '2' };
const seamViewing = (mm: number) => ({ counterReading: readingOf(mm + STATIONS['seam viewing']), station: 'seam viewing' });
const lapSeenAt = timeOf(369_000 + STATIONS['seam viewing']);

const LAPPED = {
  title: 'Lapped strip edges at splice S-3', severity: 'critical', origin: 'line', stringId: '@string 2', extentBasis: 'measured',
  extents: [{ from: seamViewing(368_900), to: seamViewing(369_121) }],
  requirement: { ...PLAN, clause: '4.7', limit: 'high-low at most 0.50 mm' },
  found: { value: '5.10', unit: 'mm', uncertainty: '0.05', method: 'bridge gauge', instrument: 'BG-02', at: lapSeenAt, by: '@ilka' },
  stage: 'open',
};

/** NC-0002: found, contained, cut out, closed. */
const lapped: readonly Step[] = [
  {
    ...entered('ilka', 'nonconformances', 'NC-0002', { observedAt: lapSeenAt, ...LAPPED }),
    recordedAt: '2026-03-03T14:52:00Z',
  },
  {
    step: 'amendment', by: 'ilka', kind: 'nonconformances', of: 'NC-0002', recordedAt: '2026-03-03T15:05:00Z', reason: 'Line stopped and splice marked.',
    changes: { containment: { action: 'Line stopped with the splice on the cutting bench; 20 m either side looked at', at: '2026-03-03T14:40:00Z', by: '@ilka' } },
  },
  {
    step: 'amendment', by: 'rasmus', kind: 'nonconformances', of: 'NC-0002', recordedAt: '2026-03-03T15:32:00Z', reason: 'Disposition decided.',
    changes: {
      stage: 'disposition-approved',
      disposition: { kind: 'reject', text: 'Cut out with at least 0.25 m to either side and re-join by PW-2.', approvedBy: '@rasmus', approvedAt: '2026-03-03T15:30:00Z' },
    },
  },
  {
    step: 'amendment', by: 'rasmus', kind: 'nonconformances', of: 'NC-0002', recordedAt: '2026-03-04T07:20:00Z', changes: { stage: 'closed' },
    reason: 'Cut out, re-joined, film accepted.',
  },
];

const THIN_HEAD = {
  title: 'Strip of coil LM-01 below its ordered thickness', severity: 'minor', origin: 'line', extentBasis: 'measured',
  coilExtents: [{ coilId: '@LM-01', stripFromMm: 96_000, stripToMm: 140_000 }],
  requirement: { document: 'Strip specification', revision: '4', clause: '3.2', limit: 'thickness 4.85 to 5.15 mm' },
  found: {
    value: '4.82', unit: 'mm', uncertainty: '0.01', method: 'micrometer, 25 mm from the edge', instrument: 'MI-07',
    at: '2026-03-02T07:25:00Z', by: '@ilka', text: 'Read at nine places of the rest; the strip run before was measured on its crop',
  },
  stage: 'open',
};

/** NC-0001: strip of the coil that both wells share, accepted under concession. */
const thinHead: readonly Step[] = [
  entered('ilka', 'nonconformances', 'NC-0001', { observedAt: '2026-03-02T07:25:00Z', ...THIN_HEAD }),
  {
    step: 'amendment', by: 'rasmus', kind: 'nonconformances', of: 'NC-0001', recordedAt: '2026-03-11T13:10:00Z', reason: 'Evaluated and decided for both wells.',
    changes: {
      stage: 'disposition-approved',
      disposition: {
        kind: 'use-as-is-under-concession', approvedBy: '@rasmus', approvedAt: '2026-03-11T13:00:00Z',
        text: 'Accepted for pipe of LM-01 between 96 and 140 m of its strip, in both wells, above 100 m measured depth only.',
      },
    },
  },
];

/** What was known of nonconformances before the release. */
export const NONCONFORMANCES: readonly Step[] = [...lapped, ...thinHead];

const readAgainAt = '2026-03-17T10:10:00Z';

/** NC-0003: found when the chart of the wall gauge was read again, with the pipe long in the well. */
export const THIN_WALL: Step = {
  ...entered('ilka', 'nonconformances', 'NC-0003', {
    observedAt: readAgainAt, title: 'Wall below minimum before splice S-2', severity: 'major', origin: 'late-discovery', stringId: '@string 2',
    extentBasis: 'bracketed', extents: [{ from: { footageMm: 215_300, uMm: '50' }, to: { footageMm: 217_800, uMm: '50' } }],
    requirement: { ...PLAN, clause: '4.3', limit: 'wall thickness at least 4.75 mm' },
    found: { value: '4.61', unit: 'mm', uncertainty: '0.02', method: 'wall gauge, chart read again', instrument: 'WG-1', at: readAgainAt, by: '@ilka' },
    containment: { action: 'Pressure test of the well held; charts 200 to 230 m read again by a second person', at: '2026-03-17T11:00:00Z', by: '@rasmus' },
    stage: 'open', note: 'Readings at 213.9 and 219.2 m of footage conform.',
  }),
  recordedAt: later(readAgainAt, 40),
};
