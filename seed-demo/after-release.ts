import { THIN_WALL } from './nonconformances.js';
import { readingOf } from './runs.js';
import { entered, type Step } from './step.js';

/** The instant at which the string was released: what came later was not known then. */
export const RELEASED_AT = '2026-03-14T18:00:00Z';

/** A look from inside, on a paper sheet that lay in the cabin for two days. The marks carry the counter reading. */
const paper: Step = {
  ...entered('ilka', 'inspections', 'camera run', {
    observedAt: '2026-03-13T14:20:00Z', doneBy: '@piet', source: 'paper', stringId: '@string 2', kind: 'visual', characteristic: 'surface and seam',
    from: { counterReading: readingOf(987_000), uMm: '50' }, to: { counterReading: readingOf(1_002_000), uMm: '50' },
    surface: 'formed-inside', verdict: 'accepted', requirement: 'Pipe inspection plan rev 2, 4.9',
    note: 'Camera in the inner pipe, sheet 14; places by the ink marks on the inside.',
  }),
  recordedAt: '2026-03-15T15:05:00Z',
};

const TAPED = 'Wheel W-2 taped over 20 m: 1.0060 mm per count, not 1.0000. Its rim had been turned down and covered anew.';

const correctedScale: readonly Step[] = [
  {
    step: 'amendment', by: 'rasmus', kind: 'counter-periods', of: 'main counter, first period', recordedAt: '2026-03-16T09:40:00Z', reason: TAPED,
    changes: { scaleMmPerCount: '1.0060' },
  },
  {
    step: 'amendment', by: 'rasmus', kind: 'counter-periods', of: 'main counter, after the reset', recordedAt: '2026-03-16T09:43:00Z', reason: TAPED,
    changes: { scaleMmPerCount: '1.0060' },
  },
];

const readAgain: Step = {
  step: 'amendment', by: 'ilka', kind: 'inspections', of: 'wall thickness 215600', recordedAt: '2026-03-17T10:15:00Z',
  reason: 'Chart of the wall gauge read again: 4.61 mm; the 6 had been taken for a 9.', changes: { value: '4.61', verdict: 'rejected' },
};

/** What became known after the release. */
export const AFTER_RELEASE: readonly Step[] = [paper, ...correctedScale, readAgain, THIN_WALL];
