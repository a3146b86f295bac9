/**
 * How long a place on the pipe still has to the hang-off, at a moment, as it is kept with a decision: the nearest metres and the
 * minutes at the speed then. How it is worked out, and with which spread, `libs/hold-clock` says.
 */
import { LineMoment, placeClock, type ClockState } from '#libs/hold-clock';
import { IntervalSet, type Interval } from '#libs/intervals';
import type { LengthModel, WeldFootage } from '#libs/length';
import { instantOf } from '#libs/persistence';
import type { LineKnowledge } from '../line/line-knowledge.js';

export const TIME_LEFT_STATES = ['running-out', 'standing', 'moving-away', 'past-the-hang-off', 'cut-out', 'not-known'] as const;
export type TimeLeftState = (typeof TIME_LEFT_STATES)[number];

/** A reading of the master counter that a speed rests on. */
export interface SpeedReading {
  readonly id: string;
  readonly version: number;
  readonly at: string;
  /** Footage at the weld point, whole mm. */
  readonly footageMm: number;
}

export interface TimeLeft {
  readonly at: string;
  readonly state: TimeLeftState;
  /** From the end of the place that gets there first, whole mm rounded down; null when not known. */
  readonly leftMm: number | null;
  /** Expanded uncertainty (k = 2) of that, mm. */
  readonly plusMinusMm: number | null;
  /** Decimal text with one decimal, rounded down; null where no time runs out, or it is not known. */
  readonly minutes: string | null;
  /** Decimal text; negative while the line runs backwards. */
  readonly speedMPerMin: string | null;
  /** The two readings that the speed rests on, the earlier first; none without a speed. */
  readonly readings: readonly SpeedReading[];
  /** How old the last reading was, whole seconds; null without one. */
  readonly readingAgeS: number | null;
  /** The set-up that says where the hang-off is. */
  readonly lineSetupId: string | null;
  readonly because: string;
}

/** What of a string's model tells where its pipe is. */
export interface LineModel {
  readonly lengths: LengthModel;
  readonly line: LineKnowledge;
}

/** Footage, and the standard uncertainty of its lower end. */
export interface PlaceOnPipe extends Interval {
  readonly uMm: number;
}

/** A place of which the first end is past is past. */
const STATES: Readonly<Record<ClockState, TimeLeftState>> = {
  'running-out': 'running-out', passing: 'past-the-hang-off', standing: 'standing', 'moving-away': 'moving-away', 'past-the-hang-off': 'past-the-hang-off', 'cut-out': 'cut-out',
  stale: 'not-known', 'not-known': 'not-known',
};

/** The line at `atUs`, by the model as known; asked once for a list of places. */
export const momentAt = ({ lengths, line }: LineModel, atUs: number): LineMoment => new LineMoment(lengths, line.setupAt(atUs), atUs);

/** Of one place at a moment. */
export function timeLeft(moment: LineMoment, { uMm, ...span }: PlaceOnPipe): TimeLeft {
  const clock = placeClock(moment, IntervalSet.of(span), uMm);
  const { setup, pace } = moment;
  const state = STATES[clock.state];
  const at = instantOf(moment.atUs);
  if (state === 'cut-out') return { ...NOTHING, at, state, because: clock.because };
  const told = { ...NOTHING, at, state, readingAgeS: moment.ageUs === null ? null : Math.floor(moment.ageUs / 1e6) };
  if (state === 'past-the-hang-off') return { ...told, leftMm: 0, minutes: '0.0', because: 'past the hang-off' };
  if (clock.hangOff === null) return { ...told, because: clock.because };
  const { leftMm, plusMinusMm, minutes } = clock.hangOff;
  const metres = { ...told, leftMm: Math.floor(leftMm), plusMinusMm, lineSetupId: setup?.id ?? null, because: clock.because };
  if (pace === null) return metres;
  const central = minutes?.central ?? null;
  return { ...metres, minutes: central === null ? null : roundedDown(central), speedMPerMin: speedText(pace.mmPerUs), readings: pace.run.map(readingOf) };
}

const NOTHING = { leftMm: null, plusMinusMm: null, minutes: null, speedMPerMin: null, readings: [], readingAgeS: null, lineSetupId: null };

/** m/min with two decimals of a speed in mm/µs. */
export const speedText = (mmPerUs: number): string => (mmPerUs * 60_000).toFixed(2);

export const readingOf = ({ record: { id, version }, atUs, footageMm }: WeldFootage): SpeedReading => ({ id, version, at: instantOf(atUs), footageMm: Math.round(footageMm) });

/** One decimal, never more than there is; a hair less than a tenth is that tenth. */
export const roundedDown = (minutes: number): string => (Math.floor(minutes * 10 + 1e-6) / 10).toFixed(1);
