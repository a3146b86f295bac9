import type { BuiltInputs } from '../setup/string-builder.js';
import type { Fields } from '../setup/string-bench.js';
import { KNOWN_STRING } from './metres.reference.js';

/** Who is there. `keyer` comes with the day and keys what was written on paper. */
export type Who = 'lead' | 'welder' | 'relief' | 'inspector' | 'keyer' | 'dayLead';

/** One entry of the night. Fields that begin with `@` stand for the id of what was entered under that key. */
export interface NightEntry {
  readonly key: string;
  readonly path: string;
  readonly observedAt: string;
  readonly by: Who;
  /** Somebody else, later, from paper. */
  readonly keyed?: { readonly by: Who; readonly at: string };
  readonly body: Fields;
  /** Its readings were taken with the gauge. */
  readonly withGauge?: true;
  /** Its pipe, mm of footage; for work that has any. */
  readonly pipe?: readonly [fromMm: number, toMm: number];
}

/** From 22:00 to 06:00 at a site one hour ahead of UTC: midnight there is at 23:00 UTC. */
export const TIME_ZONE = 'Etc/GMT-1';
export const SHIFT = { from: '2026-03-02T21:00:00Z', until: '2026-03-03T05:00:00Z' } as const;
/** The gauge was found good in the middle of the night, and out of tolerance a week later. */
export const GAUGE_GOOD_AT = '2026-03-02T23:25:00Z';
export const GAUGE_FOUND_OUT_AT = '2026-03-10T08:00:00Z';
/** The last local day of the welder's qualification. */
export const WELDER_UNTIL = '2026-03-02';
const KEYED_FROM_PAPER = { by: 'keyer', at: '2026-03-03T08:15:00Z' } as const;

/** The line makes a metre an hour; the fold comes to lie at footage 62,840 mm in the end, in the middle of the second splice. */
export const NIGHT_STRING: BuiltInputs = {
  ...KNOWN_STRING,
  readings: [
    ...KNOWN_STRING.readings.slice(0, 1), { at: '2026-03-02T20:00:00Z', reading: '58000' }, { at: '2026-03-03T05:00:00Z', reading: '67000' }, ...KNOWN_STRING.readings.slice(1),
  ],
};

const at = (clock: string): string => `2026-03-0${clock < '20:00' ? 3 : 2}T${clock}:00Z`;
const GAUGE = '@gauge';

function stop(clock: string, footageMm: number, event: 'stop' | 'restart'): NightEntry {
  const body = { from: { footageMm }, event, weldProcedureId: '@seam procedure', readings: [], cause: event === 'stop' ? 'Strip caught at the entry guide' : null };
  return { key: `${event} ${clock}`, path: 'seam-events', observedAt: at(clock), by: 'inspector', body, pipe: [footageMm, footageMm + 1] };
}

interface SpliceTimes {
  readonly prepared: string;
  readonly welded: string;
  readonly released: string;
}

function splice(number: string, fromMm: number, welder: Who, { prepared, welded, released }: SpliceTimes): NightEntry[] {
  const pipe = [fromMm, fromMm + 400] as const;
  const step = (stage: string, clock: string, more: Fields): NightEntry => ({
    key: `${number} ${stage}`, path: 'splice-steps', observedAt: at(clock), by: 'inspector', pipe, withGauge: true,
    body: {
      spliceId: `@${number}`, stage, outcome: 'accepted', examinations: [], coupons: [], photoSha256s: [],
      readings: [{ measured: 'high-low', printed: '0.2', unit: 'mm', max: '0.5', instrumentId: GAUGE }], ...more,
    },
  });
  return [
    {
      key: number, path: 'splices', observedAt: at(prepared), by: 'inspector', pipe,
      body: { number, leavingCoilId: '@coil 1', enteringCoilId: '@coil 2', angleDeg: '45', hand: 'left', confirmed: true, verdict: 'open', from: { footageMm: fromMm }, to: { footageMm: fromMm + 400 } },
    },
    step('preparation', prepared, {}),
    {
      key: `${number} weld`, path: 'welds', observedAt: at(welded), by: welder, pipe,
      body: { spliceId: `@${number}`, weldProcedureId: '@splice procedure', readings: [{ variable: 'current', printed: '180', unit: 'A', instrumentId: '@monitor' }], chosen: [{ choice: 'process', value: '135' }] },
    },
    step('flat-strip-release', released, { examinations: [{ method: 'RT', technique: 'RT-02', outcome: 'accepted', personId: '@inspector' }] }),
  ];
}

function wall(clock: string, fromMm: number, keyed?: typeof KEYED_FROM_PAPER): NightEntry {
  const pipe = [fromMm, fromMm + 100] as const;
  return {
    key: `wall ${clock}`, path: 'inspections', observedAt: at(clock), by: 'inspector', withGauge: true, pipe, ...(keyed === undefined ? {} : { keyed }),
    body: {
      // What the counter showed there: a millimetre a count.
      from: { counterReading: String(pipe[0]) }, to: { counterReading: String(pipe[1]) }, kind: 'dimensional', characteristic: 'wall thickness', value: '4.97', unit: 'mm', limitMin: '4.75',
      requirement: 'Plan 4.3', instrumentId: GAUGE, verdict: 'accepted',
    },
  };
}

/** Thirty entries, in the order in which they happened or were begun. */
export const NIGHT: readonly NightEntry[] = [
  { key: 'shift', path: 'shifts', observedAt: SHIFT.from, by: 'lead', body: { name: 'night', crew: [{ personId: '@lead', duty: 'Shift lead' }, { personId: '@welder', duty: 'Welder' }, { personId: '@inspector', duty: 'Inspector' }] } },
  stop('21:20', 59_333, 'stop'), stop('21:30', 59_333, 'restart'), stop('00:50', 62_833, 'stop'), stop('01:05', 62_833, 'restart'),
  ...splice('S-1', 60_000, 'welder', { prepared: '21:40', welded: '21:45', released: '21:55' }),
  ...splice('S-2', 62_700, 'welder', { prepared: '23:20', welded: '23:30', released: '23:45' }),
  ...splice('S-3', 64_000, 'relief', { prepared: '02:20', welded: '02:30', released: '02:45' }),
  // The last of these before the gauge was found good, and the first at that very minute.
  wall('21:35', 58_000), wall('22:30', 59_000), wall('23:24', 60_500), wall('23:25', 60_700), wall('00:30', 61_500), wall('02:10', 62_790), wall('04:10', 65_000), wall('04:40', 65_600),
  wall('01:40', 62_950, KEYED_FROM_PAPER), wall('03:10', 64_300, KEYED_FROM_PAPER),
  {
    key: 'ground', path: 'repairs', observedAt: at('03:40'), by: 'inspector', withGauge: true, pipe: [64_800, 64_850],
    body: { from: { footageMm: 64_800 }, to: { footageMm: 64_850 }, method: 'grinding', found: 'Scratch', depthRemovedMm: '0.10', remainingWallMm: '4.85', wallLimitMm: '4.75', instrumentId: GAUGE, readings: [], chosen: [], photoSha256s: [] },
  },
  {
    key: 'looked at', path: 'examinations', observedAt: at('03:55'), by: 'inspector', pipe: [64_780, 64_870],
    body: { from: { footageMm: 64_780 }, to: { footageMm: 64_870 }, method: 'MT', technique: 'MT-1', outcome: 'accepted', standsInFor: [], photoSha256s: [] },
  },
  { key: 'handover', path: 'handovers', observedAt: at('04:55'), by: 'lead', body: { shiftId: '@shift', items: [{ words: 'S-2: film 2 to be read again' }, { words: 'The gauge is due for calibration' }] } },
];
