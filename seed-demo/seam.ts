import { readingOf, RESET, RUNS, endOf, type Run } from './runs.js';
import { entered, type Fields, type Step } from './step.js';

/** Why the seam weld stopped, by the true footage at the weld point, mm. */
const CAUSES: Readonly<Record<number, string>> = {
  104_000: 'Trimming tool changed', 196_000: 'Shoe to be tagged; end of the first day', 300_000: 'Chains of the push unit greased',
  386_100: 'Splice S-3 on the cutting bench, to be cut out', 498_000: 'Coolant pump of the weld head changed', 610_642: 'Coil LM-06 not prepared; shoe tagged',
  716_000: 'Chain of the push unit tightened', 774_750: 'Open seam on the cutting bench, to be cut out', 842_000: 'Strip jammed in the entry guide',
  900_000: 'Shoe to be tagged', 1_020_000: 'Viewing lamp to be changed; shoe tagged', 1_130_000: 'Bearing of a forming roll hot', 1_231_847: 'String complete',
};

/** Mean power of the source, kW. */
const POWER = '5.3';

/** The line backed up without welding. */
const FORWARD: readonly Run[] = RUNS.filter(({ fromMm, toMm }) => toMm > fromMm);

const at = (run: Run, mm: number): Fields => ({ counterReading: run.fromMm === mm && mm === RESET.weldMm ? '0' : readingOf(mm) });
const COMMON = { stringId: '@string 2', doneBy: '@teodor', weldProcedureId: '@WP-3' };

const started = (run: Run): Step => entered('ilka', 'seam-events', `seam from ${run.fromMm}`, {
  observedAt: run.startedAt, ...COMMON, event: run.fromMm === 0 ? 'start' : 'restart', from: at(run, run.fromMm),
  readings: [
    { variable: 'power', printed: POWER, unit: 'kW', instrumentId: '@WM-1' },
    { variable: 'line-speed', printed: (run.mmPerMinute / 1000).toFixed(2), unit: 'm/min', instrumentId: '@WM-1' },
  ],
});

const stopped = (run: Run): Step => entered('ilka', 'seam-events', `seam to ${run.toMm}`, {
  observedAt: endOf(run), ...COMMON, event: 'stop', from: at(run, run.toMm), readings: [], cause: CAUSES[run.toMm] ?? '',
});

/** Each start and stop of the seam weld. */
export const SEAM: readonly Step[] = FORWARD.flatMap((run) => [started(run), stopped(run)]);
