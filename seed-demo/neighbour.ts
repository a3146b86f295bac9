import { HANG_OFF_PATH_MM, STATIONS } from './line.js';
import { entered, later, type Step } from './step.js';

const DAY = '2026-02-24';
const at = (clock: string): string => `${DAY}T${clock}:00Z`;
const STRING = { stringId: '@string 1' };

/** Clock and what the counter showed: 1 mm a count, wheel W-1. */
const READINGS = [
  ['08:00', '0'], ['08:10', '9020'], ['08:20', '18110'], ['08:30', '27150'], ['08:40', '36170'], ['08:50', '45260'], ['09:00', '54210'],
  ['09:10', '63330'], ['09:20', '72300'], ['09:30', '81370'], ['09:40', '90420'], ['09:50', '99480'], ['10:00', '108510'], ['10:10', '117941'],
] as const;

const stations = [
  ...(['wall gauge', 'seam viewing'] as const).map((name) => ({ name, pathMinMm: STATIONS[name], pathMaxMm: STATIONS[name], uMm: '3' })),
  { name: 'hang-off', role: 'hang-off', pathMinMm: HANG_OFF_PATH_MM, pathMaxMm: HANG_OFF_PATH_MM, uMm: '10' },
];

/** The short trial string of the well beside, made of the first part of coil LM-01. */
export const NEIGHBOUR: readonly Step[] = [
  entered('rasmus', 'line-setups', 'set-up at Lindmoor 1', { observedAt: at('06:30'), ...STRING, viewing: 'down-the-hole', stations }),
  entered('rasmus', 'counter-periods', 'main counter at Lindmoor 1', {
    observedAt: at('06:40'), ...STRING, startReading: '0', startFootageMm: 0, scaleMmPerCount: '1.0000', scaleRelativeU: '0.0005', wheel: 'W-1',
  }),
  ...[READINGS.slice(0, 7), READINGS.slice(7)].map((part): Step => ({
    step: 'readings', by: 'ilka', kind: 'counter-readings', key: `readings at Lindmoor 1 from ${String(part[0]?.[0])}`,
    recordedAt: later(at(String(part.at(-1)?.[0])), 1),
    readings: part.map(([clock, reading]) => ({ ...STRING, observedAt: at(clock), reading, source: 'instrument' })),
  })),
  entered('ilka', 'hang-offs', 'hang-off 1', {
    observedAt: at('08:32'), ...STRING, from: { counterReading: '28900', station: 'hang-off', uMm: '10' }, mdMm: 1_500, mdUMm: '5',
  }),
  entered('ilka', 'inspections', 'visual at Lindmoor 1', {
    observedAt: at('10:10'), ...STRING, kind: 'visual', characteristic: 'surface and seam', surface: 'formed-outside', verdict: 'accepted',
    from: { counterReading: '11000', station: 'seam viewing' }, to: { counterReading: '117941', station: 'seam viewing' },
  }),
  entered('ilka', 'coil-segments', 'segment LM-01 at Lindmoor 1', {
    observedAt: at('10:10'), ...STRING, coilId: '@LM-01', from: { counterReading: '0' }, to: { counterReading: '117941' },
    stripFromMm: 1_200, stripToMm: 119_000, runs: 'head-first', note: 'The rest goes to the second well.',
  }),
  {
    step: 'amendment', by: 'rasmus', kind: 'coils', of: 'LM-01', recordedAt: at('10:40'), reason: 'Crop and rest after the trial.',
    changes: { cropMm: 1_200, restMm: 95_000 },
  },
  entered('rasmus', 'shoe-ties', 'tie at Lindmoor 1', {
    observedAt: at('10:30'), ...STRING, place: { counterReading: '117941' }, shoeMdMm: 45_690, shoeUMm: '80', method: 'Wireline tag at the fold',
  }),
];
