import { CUTS, endOf, readingOf, RESET, RUNS, type Run } from './runs.js';
import { entered, later, type Fields, type Step } from './step.js';

/** Path distances downstream of the weld point, mm. */
export const STATIONS = {
  'wall gauge': 6_200,
  'eddy-current head': 8_900,
  'ultrasonic head': 9_600,
  'seam viewing': 10_400,
  'diameter gauge': 12_000,
  'cutting bench': 16_800,
  'push unit': 21_500,
} as const;
export type StationName = keyof typeof STATIONS;
/** The strip splice station stands behind the accumulator, which stores 4 m more or less. */
export const SPLICE_STATION = { pathMinMm: -14_000, pathMaxMm: -10_000 } as const;
export const HANG_OFF_PATH_MM = 27_400;
/** Where the diameter gauge stands since the second set-up. */
export const MOVED_GAUGE_MM = 13_500;

const FIRST_DAY = '2026-03-02T06:00:00Z';
const SECOND_SETUP = '2026-03-06T06:30:00Z';
/** A reading is taken every so many minutes, and sent in by the dozen. */
const EVERY_MINUTES = 4;
const DOZEN = 12;
/** Taken for 0.5000; the roll slips a little. */
const PUSH_MM_PER_COUNT = 0.50012;

function stations(diameterGaugeMm: number): Fields[] {
  const single = Object.entries({ ...STATIONS, 'diameter gauge': diameterGaugeMm }).map(([name, mm]) => ({
    name, pathMinMm: mm, pathMaxMm: mm, uMm: '3',
  }));
  const hangOff = { name: 'hang-off', role: 'hang-off', pathMinMm: HANG_OFF_PATH_MM, pathMaxMm: HANG_OFF_PATH_MM, uMm: '10' };
  return [{ name: 'strip splice', ...SPLICE_STATION, uMm: '5' }, ...single, hangOff];
}

const SETUPS: readonly Step[] = [
  entered('rasmus', 'line-setups', 'set-up 1', {
    observedAt: FIRST_DAY, stringId: '@string 2', viewing: 'down-the-hole', stations: stations(STATIONS['diameter gauge']),
    note: 'Distances taped along the pipe.',
  }),
  entered('rasmus', 'line-setups', 'set-up 2', {
    observedAt: SECOND_SETUP, stringId: '@string 2', viewing: 'down-the-hole', stations: stations(MOVED_GAUGE_MM),
    note: 'Diameter gauge moved 1.5 m down the line, clear of the cooling spray.',
  }),
];

/** The push unit stands while the line is pulled up to close the gap of a cut-out: its counter does not see that pipe. */
function pushAfter(cut: (typeof CUTS)[number]): Step {
  const weldMm = weldWhenCut(cut.at);
  return entered('ilka', 'counter-periods', `push counter after ${cut.at}`, {
    observedAt: cut.at, stringId: '@string 2', counter: 'push', startReading: pushReading(weldMm, cut.at),
    startFootageMm: weldMm + cut.toMm - cut.fromMm, scaleMmPerCount: '0.5000', scaleRelativeU: '0.0010', wheel: 'P-1',
    note: 'Set on by the length of the cut-out.',
  });
}

const weldWhenCut = (at: string): number => RUNS.findLast(({ startedAt }) => startedAt < at)?.toMm ?? 0;

const pushReading = (weldMm: number, at: string): string => {
  const unseenMm = CUTS.filter((cut) => cut.at < at).reduce((sum, { fromMm, toMm }) => sum + toMm - fromMm, 0);
  return String(Math.round((weldMm - unseenMm) / PUSH_MM_PER_COUNT));
};

const PERIODS: readonly Step[] = [
  entered('rasmus', 'counter-periods', 'main counter, first period', {
    observedAt: '2026-03-02T06:10:00Z', stringId: '@string 2', counter: 'main', startReading: '0', startFootageMm: 0,
    scaleMmPerCount: '1.0000', scaleRelativeU: '0.0005', wheel: 'W-2', note: 'Scale as printed on the wheel.',
  }),
  entered('rasmus', 'counter-periods', 'push counter', {
    observedAt: '2026-03-02T06:15:00Z', stringId: '@string 2', counter: 'push', startReading: '0', startFootageMm: 0,
    scaleMmPerCount: '0.5000', scaleRelativeU: '0.0010', wheel: 'P-1', note: 'On the roll of the push unit; counts what goes into the well.',
  }),
  ...CUTS.map(pushAfter),
  entered('ilka', 'counter-periods', 'main counter, after the reset', {
    observedAt: RESET.at, stringId: '@string 2', counter: 'main', startReading: '0', previousEndReading: readingOf(RESET.weldMm),
    scaleMmPerCount: '1.0000', scaleRelativeU: '0.0005', wheel: 'W-2', note: 'Power dip while the line stood: the counter came back at zero.',
  }),
];

/** The readings of a run: at its start, every few minutes, at its end. */
function readingsOf(run: Run): Fields[] {
  const minutes = Math.abs(run.toMm - run.fromMm) / run.mmPerMinute;
  const direction = Math.sign(run.toMm - run.fromMm);
  const times = Array.from({ length: Math.ceil(minutes / EVERY_MINUTES) }, (_, index) => index * EVERY_MINUTES);
  const under = times.map((minute) => ({
    observedAt: later(run.startedAt, minute),
    reading: shown(run, run.fromMm + direction * Math.round(run.mmPerMinute * minute)),
  }));
  return [...under, { observedAt: endOf(run), reading: shown(run, run.toMm) }].map((reading) => ({
    stringId: '@string 2', source: 'instrument', ...reading,
  }));
}

/** The first run after the reset begins where the counter had just been set to zero. */
const shown = (run: Run, weldMm: number): string =>
  run.fromMm === RESET.weldMm && weldMm === RESET.weldMm ? '0' : readingOf(weldMm);

const MAIN_READINGS: readonly Step[] = RUNS.flatMap((run) => {
  const readings = readingsOf(run);
  const chunks = Array.from({ length: Math.ceil(readings.length / DOZEN) }, (_, index) =>
    readings.slice(index * DOZEN, (index + 1) * DOZEN),
  );
  return chunks.map((chunk, index): Step => ({
    step: 'readings', kind: 'counter-readings', by: 'ilka', key: `readings ${run.startedAt} ${index}`, readings: chunk,
    recordedAt: later(String(chunk.at(-1)?.['observedAt']), 1),
  }));
});

/** The push counter, read at the end of each run. */
const PUSH_READINGS: readonly Step[] = RUNS.filter(({ fromMm, toMm }) => toMm > fromMm).map((run): Step => {
  const at = endOf(run);
  return entered('ilka', 'counter-readings', `push reading ${at}`, {
    observedAt: at, stringId: '@string 2', counter: 'push', reading: pushReading(run.toMm, at), source: 'keyed',
  });
});

/** Set-ups, counters and what they showed. */
export const LINE: readonly Step[] = [...SETUPS, ...PERIODS, ...MAIN_READINGS, ...PUSH_READINGS];
