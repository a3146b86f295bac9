import { STATIONS, type StationName } from './line.js';
import { endOf, readingOf, RUNS, type Run } from './runs.js';
import { EVERY_COUNTS, lengthSamples, NOTHING_READ, POWER_EVERY_S, powerSamples } from './samples.js';
import { entered, later, type Fields, type Step } from './step.js';

const PLAN = 'Pipe inspection plan rev 2';
const STRING = { stringId: '@string 2' };

/** A part of the line's inspection that the demo has samples of: three days of pipe, 380 m. */
interface Day {
  readonly day: string;
  /** True footage at the weld point, mm. */
  readonly fromMm: number;
  readonly toMm: number;
  readonly begins: string;
  readonly ends: string;
  readonly endReason: string;
  readonly checks: readonly Check[];
}

interface Check {
  readonly at: string;
  readonly occasion: 'start' | 'interval' | 'end';
  /** True footage at the weld point, where the line stood. */
  readonly weldMm: number;
  /** Wall of the thin step in mm, and the echo of the notch in % of screen. */
  readonly step: string;
  readonly notch: string;
  readonly action?: string;
}

const DAYS: readonly Day[] = [
  {
    day: '2026-03-03', fromMm: 196_000, toMm: 386_100, begins: '2026-03-03T07:50:00Z', ends: '2026-03-03T14:50:00Z', endReason: 'Line stopped for the cut-out of S-3',
    checks: [
      { at: '2026-03-03T07:56:00Z', occasion: 'start', weldMm: 196_000, step: '4.61', notch: '74' },
      { at: '2026-03-03T11:52:00Z', occasion: 'interval', weldMm: 300_000, step: '4.60', notch: '72' },
      { at: '2026-03-03T14:44:00Z', occasion: 'end', weldMm: 386_100, step: '4.61', notch: '73' },
    ],
  },
  {
    day: '2026-03-04', fromMm: 386_100, toMm: 498_000, begins: '2026-03-04T07:45:00Z', ends: '2026-03-04T09:50:00Z', endReason: 'Coolant pump failed',
    checks: [
      { at: '2026-03-04T07:49:00Z', occasion: 'start', weldMm: 386_100, step: '4.60', notch: '75' },
      // The ultrasonic head no longer sees the notch.
      { at: '2026-03-04T09:42:00Z', occasion: 'end', weldMm: 498_000, step: '4.61', notch: '38', action: 'Wedge of the ultrasonic head worn hollow; wedge changed, head set up anew.' },
    ],
  },
  // Nobody made the check at its end.
  {
    day: '2026-03-05', fromMm: 498_000, toMm: 610_642, begins: '2026-03-05T07:45:00Z', ends: '2026-03-05T09:55:00Z', endReason: 'Coil LM-06 not prepared',
    checks: [{ at: '2026-03-05T07:52:00Z', occasion: 'start', weldMm: 498_000, step: '4.61', notch: '73' }],
  },
];

const CHANNEL = {
  ...STRING, technique: null, probe: null, clockFromDeg: null, clockToDeg: null, threshold: null, missingValues: [], saturatesAt: null, plausible: null,
  stuckAfter: null, noiseFloorLeast: null, speedWindow: null, spliceMarginMm: null, repeats: 'best', note: null,
} as const;
const BY_LENGTH = { per: 'length', everyMm: String(EVERY_COUNTS) };
const RULE = { checkEveryMinutes: 240, checkGraceMinutes: 15, checkRuleSource: `${PLAN}, 5.1` };
const FROM = '2026-03-02T15:00:00Z';

const CHANNELS: readonly Step[] = [
  entered('rasmus', 'channels', 'UT-wall', {
    ...CHANNEL, observedAt: FROM, name: 'UT-wall', measures: 'wall-thickness', unit: 'mm', method: 'UT', technique: 'UT-03 rev 1', station: 'wall gauge', zone: 'body', probe: 'W-11',
    sampling: BY_LENGTH, threshold: { sense: 'below', level: '4.75' }, required: true, missingValues: [NOTHING_READ], plausible: { from: '0', to: '20' }, speedWindow: { fromMPerMin: '0.2', toMPerMin: '3' },
    spliceMarginMm: 500, ...RULE,
  }),
  entered('rasmus', 'channels', 'UT-seam', {
    ...CHANNEL, observedAt: later(FROM, 5), name: 'UT-seam', measures: 'ultrasonic-amplitude', unit: '%', method: 'UT', technique: 'UT-04 rev 2', station: 'ultrasonic head', zone: 'seam', probe: 'S-4',
    clockFromDeg: '345', clockToDeg: '15', sampling: BY_LENGTH, threshold: { sense: 'above', level: '60' }, required: true, missingValues: [NOTHING_READ], saturatesAt: { high: '100', low: null },
    plausible: { from: '0', to: '100' }, noiseFloorLeast: '1', speedWindow: { fromMPerMin: '0.2', toMPerMin: '3' }, spliceMarginMm: 500, ...RULE,
  }),
  entered('rasmus', 'channels', 'weld-power', {
    ...CHANNEL, observedAt: later(FROM, 10), name: 'weld-power', measures: 'weld-power', unit: 'kW', method: null, station: null, zone: 'seam',
    sampling: { per: 'time', everyMs: String(POWER_EVERY_S * 1000) }, required: false, plausible: { from: '0', to: '20' },
  }),
];

const keyOf = ({ day }: Day): string => `inspection run ${day}`;
const runsOf = ({ fromMm, toMm }: Day): Run[] => RUNS.filter((run) => run.fromMm >= fromMm && run.toMm <= toMm && run.toMm > run.fromMm);

const begun = (day: Day): Step => entered('piet', 'inspection-runs', keyOf(day), {
  observedAt: day.begins, ...STRING, counter: 'main', channelIds: ['@UT-wall', '@UT-seam', '@weld-power'], standardId: '@RT-1', doneBy: '@piet',
  settings: [{ channelId: '@UT-seam', gainDb: '42.5', threshold: '60', filter: '2 to 8 MHz', note: null }],
});

const ended = (day: Day): Step => ({
  step: 'amendment', by: 'piet', kind: 'inspection-runs', of: keyOf(day), recordedAt: later(day.ends, 1), reason: 'The run has ended.',
  changes: { endedAt: day.ends, endReason: day.endReason },
});

const at = (weldMm: number, station: StationName): Fields => ({ counterReading: readingOf(weldMm), station });

const checked = (day: Day): Step[] => day.checks.map(({ at: when, occasion, weldMm, step, notch, action }) =>
  entered('piet', 'reference-checks', `reference check ${when}`, {
    observedAt: when, ...STRING, runId: `@${keyOf(day)}`, standardId: '@RT-1', mode: 'dynamic', occasion, from: at(weldMm, 'ultrasonic head'), doneBy: '@piet', action: action ?? null,
    results: [
      { channelId: '@UT-wall', reflector: 'Step', size: '4.60 mm wall', amplitude: step, threshold: '4.75', sense: 'below' },
      { channelId: '@UT-seam', reflector: 'N5 inside', size: '0.25 mm deep, 25 mm long', amplitude: notch, threshold: '60', sense: 'above' },
    ],
  }));

/** Sent by the line computer once the line stands. */
const sent = (day: Day): Step[] => {
  const runs = runsOf(day);
  const about = { step: 'samples', by: 'piet', run: keyOf(day), recordedAt: later(day.ends, 3) } as const;
  return [
    {
      ...about, key: `samples by length ${day.day}`, position: 'counter', columns: { wall: '@UT-wall', seam: '@UT-seam' },
      parts: runs.map((run) => ({ firstAt: run.startedAt, lastAt: endOf(run), csv: () => lengthSamples(run) })),
    },
    { ...about, key: `samples by time ${day.day}`, position: 'time', columns: { power: '@weld-power' }, parts: runs.map((run) => ({ csv: () => powerSamples(run) })) },
  ];
};

/** Over a splice the head answers to the weld across, which has an examination of its own; over lapped edges it was lifted. */
const MARKS: readonly { readonly splice: string; readonly day: number; readonly when: string; readonly fromMm: number; readonly toMm: number; readonly fields: Fields }[] = [
  { splice: 'S-2', day: 0, when: '2026-03-03T08:45:00Z', fromMm: 216_400, toMm: 216_820, fields: { effect: 'excluded', cause: 'splice', note: 'Splice S-2' } },
  { splice: 'S-3', day: 0, when: '2026-03-03T14:40:00Z', fromMm: 368_000, toMm: 369_800, fields: { effect: 'not-valid', cause: 'probe-lifted', note: 'Lifted for the lapped edges of S-3' } },
  { splice: 'S-4', day: 2, when: '2026-03-05T08:50:00Z', fromMm: 536_600, toMm: 537_020, fields: { effect: 'excluded', cause: 'splice', note: 'Splice S-4' } },
];

const marked: readonly Step[] = MARKS.map(({ splice, day, when, fromMm, toMm, fields }) => {
  const place = (mm: number): Fields => ({ counterReading: readingOf(mm + STATIONS['ultrasonic head']), station: 'ultrasonic head' });
  return entered('piet', 'signal-marks', `signal mark at ${splice}`, {
    observedAt: when, ...STRING, runId: `@${keyOf(DAYS[day] as Day)}`, channelIds: ['@UT-seam'], from: place(fromMm), to: place(toMm), doneBy: '@piet', ...fields,
  });
});

/** What inspected the pipe while it ran: channels, their runs, samples, checks and marks. */
export const SIGNALS: readonly Step[] = [...CHANNELS, ...DAYS.flatMap((day) => [begun(day), ended(day), ...checked(day), ...sent(day)]), ...marked];
