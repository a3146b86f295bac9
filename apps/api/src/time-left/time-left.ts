/**
 * How long a place on the pipe still has to the hang-off, at a moment: metres by the counter and the line set-up, minutes by
 * how fast the line ran lately. Past the hang-off nothing more can be done. What is not known says why, and is never a number.
 */
import { IntervalSet, type Interval } from '#libs/intervals';
import { COVERAGE_FACTOR, lastIndexWhere, LengthError, rootSumOfSquares, type LengthModel, type PathDistance, type WeldFootage, type WeldFootageFigure } from '#libs/length';
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

/** A counter that said nothing for so long says nothing of now. Our own choice: at 5 m/min it is 50 m of pipe. */
export const RECENT_US = 600_000_000;
/** A speed is taken over at least so long where readings allow it, so that a counter's step plays no part. Our own choice. */
const STEADY_US = 30_000_000;
/** Footage is in whole millimetres: less than this is no movement. */
const STILL_MM = 1;

/** What of a string's model tells where its pipe is. */
export interface LineModel {
  readonly lengths: LengthModel;
  readonly line: LineKnowledge;
}

/** Footage, and the standard uncertainty of its lower end. */
export interface PlaceOnPipe extends Interval {
  readonly uMm: number;
}

/** At `atUs`, by the model as known. */
export function timeLeft({ lengths, line }: LineModel, place: PlaceOnPipe, atUs: number): TimeLeft {
  const found = whereIs(lengths, place, atUs);
  if ('state' in found) return found;
  const setup = line.setupAt(atUs);
  const path = line.hangOffPathAt(atUs);
  const { figure, age } = found;
  if (setup === null || path === null) return unknown(atUs, age, 'no line set-up that was in force says where the hang-off is');
  const known = { ...found, lineSetupId: setup.id, path };
  const leftMm = path.minMm - found.pathMm;
  if (path.maxMm <= found.pathMm) return past(atUs, known, 'past the hang-off');
  // Not past: a list of what is open would put it behind all others, and there may be metres yet.
  if (leftMm <= 0) return unknown(atUs, age, 'it may have passed the hang-off already, by the range of its path');
  const run = recentRun(lengths.lengths.weldFootage, atUs);
  if (figure.basis === 'after the last reading' && (age.us > RECENT_US || run === null)) {
    const then = `then ${metres(leftMm)} m were left, and nobody knows how far the line ran since`;
    return unknown(atUs, age, age.us > RECENT_US ? `the last counter reading was ${minutesOf(age.us)} min old; ${then}` : `the only recent counter reading was ${age.s} s old; ${then}`);
  }
  return atSpeed(lengths, atUs, known, { leftMm, run });
}

interface Age {
  readonly us: number;
  readonly s: number;
}

interface Found {
  readonly pathMm: number;
  readonly figure: WeldFootageFigure;
  readonly age: Age;
  readonly uMm: number;
}

interface Known extends Found {
  readonly lineSetupId: string;
  readonly path: PathDistance;
}

/** Path distance of the lower end of what is left of a place, or the answer where that is none. */
function whereIs(lengths: LengthModel, { uMm, ...span }: PlaceOnPipe, atUs: number): Found | TimeLeft {
  const cut = lengths.lengths.cutOuts.filter((one) => one.atUs <= atUs);
  const [first] = IntervalSet.of(span).subtract(IntervalSet.from(cut)).intervals;
  if (first === undefined) return { ...NOTHING, at: instantOf(atUs), state: 'cut-out', because: 'cut out' };
  try {
    const figure = lengths.weldFootageAt(atUs);
    const us = atUs - (figure.readings[0]?.atUs ?? atUs);
    const age = { us, s: Math.floor(us / 1e6) };
    const { place } = lengths.placeOf(first.fromMm, atUs);
    if (place === 'inner-wall' || place === 'outer-wall' || place === 'lead-end') return past(atUs, { age, lineSetupId: null }, 'past the hang-off');
    const net = lengths.nets.at(atUs);
    return { pathMm: net.at(figure.footageMm) - net.at(first.fromMm), figure, age, uMm: rootSumOfSquares(figure.uMm, uMm) };
  } catch (error) {
    if (error instanceof LengthError) return unknown(atUs, null, `not known: ${error.message}`);
    throw error;
  }
}

const NOTHING = { leftMm: null, plusMinusMm: null, minutes: null, speedMPerMin: null, readings: [], readingAgeS: null, lineSetupId: null };

const unknown = (atUs: number, age: Age | null, because: string): TimeLeft =>
  ({ ...NOTHING, at: instantOf(atUs), state: 'not-known', readingAgeS: age?.s ?? null, because });

const past = (atUs: number, { age, lineSetupId }: Pick<Known, 'age'> & { readonly lineSetupId: string | null }, because: string): TimeLeft =>
  ({ ...NOTHING, at: instantOf(atUs), state: 'past-the-hang-off', leftMm: 0, minutes: '0.0', readingAgeS: age.s, lineSetupId, because });

interface Running {
  readonly leftMm: number;
  readonly run: readonly [WeldFootage, WeldFootage] | null;
}

function atSpeed(lengths: LengthModel, atUs: number, known: Known, { leftMm, run }: Running): TimeLeft {
  const { figure, age, path, lineSetupId } = known;
  const plusMinusMm = Math.ceil(COVERAGE_FACTOR * rootSumOfSquares(path.uMm, known.uMm, lengths.lengths.scaleRelativeU * known.pathMm));
  const metresKnown = { ...NOTHING, at: instantOf(atUs), leftMm: Math.floor(leftMm), plusMinusMm, readingAgeS: age.s, lineSetupId };
  if (run === null) return { ...metresKnown, state: 'not-known', because: 'minutes not known: fewer than two recent counter readings, so no speed' };
  const [from, to] = run;
  const ranMm = to.footageMm - from.footageMm;
  const mmPerUs = ranMm / (to.atUs - from.atUs);
  const moving = { ...metresKnown, speedMPerMin: (mmPerUs * 60_000).toFixed(2), readings: [readingOf(from), readingOf(to)] };
  if (Math.abs(ranMm) <= STILL_MM) return { ...moving, state: 'standing', speedMPerMin: '0.00', because: 'the line stood by its last two readings: no time runs out while it does' };
  if (ranMm < 0) return { ...moving, state: 'moving-away', because: 'the line ran backwards by its last two readings: the place moves away from the hang-off' };
  // What ran since the last reading is gone, at the speed before.
  const sinceMm = figure.basis === 'after the last reading' ? mmPerUs * age.us : 0;
  const nowMm = Math.max(0, leftMm - sinceMm);
  const taken = sinceMm > 0 ? `; ${metres(sinceMm)} m are taken off for the ${age.s} s since the last reading` : '';
  const because = `${metres(nowMm)} m at ${moving.speedMPerMin} m/min${taken}`;
  return { ...moving, state: 'running-out', leftMm: Math.floor(nowMm), minutes: down(nowMm / mmPerUs / 60e6), because };
}

/** The last reading by `atUs`, and the one that it is held against; null where one of them is not recent. Looks at no reading before: a list of places asks for each. */
function recentRun(readings: readonly WeldFootage[], atUs: number): readonly [WeldFootage, WeldFootage] | null {
  const lastAt = lastIndexWhere(readings, (one) => one.atUs <= atUs);
  const last = readings[lastAt];
  if (last === undefined || atUs - last.atUs > RECENT_US) return null;
  let from: WeldFootage | null = null;
  for (let index = lastAt - 1; index >= 0; index -= 1) {
    const one = readings[index] as WeldFootage;
    const beforeUs = last.atUs - one.atUs;
    if (beforeUs > RECENT_US) break;
    if (beforeUs > 0) from = one;
    if (beforeUs >= STEADY_US) break;
  }
  return from === null ? null : [from, last];
}

const readingOf = ({ record: { id, version }, atUs, footageMm }: WeldFootage): SpeedReading => ({ id, version, at: instantOf(atUs), footageMm: Math.round(footageMm) });

const metres = (mm: number): string => (Math.floor(mm) / 1000).toFixed(3);
const minutesOf = (us: number): string => String(Math.floor(us / 60e6));

/** One decimal, never more than there is; a hair less than a tenth is that tenth. */
const down = (minutes: number): string => (Math.floor(minutes * 10 + 1e-6) / 10).toFixed(1);
