/**
 * How long a place on the pipe has to the stations that are still ahead of it and to the hang-off, past which nothing more can
 * be done: metres by counter and line set-up, minutes by how fast the line ran lately, with their spread. What is not known
 * says why, and is never a number.
 */
import type { IntervalSet } from '#libs/intervals';
import { COVERAGE_FACTOR, rootSumOfSquares, type PathDistance } from '#libs/length';
import type { LineMoment, PartOfPlace, Where } from './line-moment.js';
import { RECENT_US, type Pace } from './pace.js';

export const CLOCK_STATES = ['running-out', 'passing', 'standing', 'moving-away', 'past-the-hang-off', 'cut-out', 'stale', 'not-known'] as const;
export type ClockState = (typeof CLOCK_STATES)[number];

/** Unrounded; null where there is no such figure. */
export interface Minutes {
  /** At the greatest of the recent speeds, from the near end of all that is not certain. */
  readonly least: number | null;
  /** At the speed now. */
  readonly central: number | null;
  /** At the least of the recent speeds, from the far end; null where the line stood or ran backwards lately: it has no end. */
  readonly greatest: number | null;
}

export interface Ahead {
  /** To the nearest of the range of its path, less what the line ran since its last reading at the speed now; unrounded mm, 0 or more. */
  readonly leftMm: number;
  /** Expanded uncertainty (k = 2) of that, mm. */
  readonly plusMinusMm: number;
  /** Null where no speed is known. */
  readonly minutes: Minutes | null;
}

export interface StationAhead extends Ahead {
  readonly name: string;
  readonly role: 'hang-off' | 'weld-point' | null;
}

export interface PlaceClock {
  readonly state: ClockState;
  /** Where the end of it lies that gets to the hang-off next, or where it lies when all of it is past. */
  readonly where: Where;
  readonly parts: readonly PartOfPlace[];
  /** Footage of the end that gets there next; null once all of it is past or cut out. The lowest gets there first. */
  readonly nextMm: number | null;
  /** To the hang-off; null where it is not known. Of what is past, 0 mm and no minutes. */
  readonly hangOff: Ahead | null;
  /** The weld point while it is strip, every later station, and the hang-off; the nearest first. */
  readonly stations: readonly StationAhead[];
  /** How much was taken off for the time since the last reading, mm. */
  readonly takenOffMm: number;
  readonly because: string;
}

/** Where nothing on the line can be done to pipe any more. */
const PAST: ReadonlySet<Where> = new Set(['lead-end', 'outer-wall', 'inner-wall']);
const WELD_POINT = { name: 'weld point', role: 'weld-point', path: { minMm: 0, maxMm: 0, uMm: 0 } } as const;
const NOTHING = { nextMm: null, hangOff: null, stations: [], takenOffMm: 0 };
const NONE_LEFT: Ahead = { leftMm: 0, plusMinusMm: 0, minutes: null };

/** @param uMm standard uncertainty of the place's lower end */
export function placeClock(moment: LineMoment, place: IntervalSet, uMm: number): PlaceClock {
  const parts = moment.partsOf(place);
  const standing = parts.filter(({ where }) => where !== 'cut-out');
  const [lead] = standing;
  if (lead === undefined) return { ...NOTHING, state: 'cut-out', where: 'cut-out', parts, because: 'cut out' };
  const next = standing.find(({ where }) => !PAST.has(where));
  if (next === undefined) return { ...NOTHING, state: 'past-the-hang-off', where: lead.where, parts, hangOff: NONE_LEFT, because: 'past the hang-off' };
  if (next.where === 'not-known') return notKnown(parts, next, moment.unknown ?? 'not known');
  const path = moment.hangOff?.path;
  if (path === undefined) return notKnown(parts, next, 'no line set-up that was in force says where the hang-off is');
  const known = { moment, parts, next, uMm, pathMm: moment.pathMm(next.fromMm) };
  if (lead !== next || path.maxMm <= known.pathMm) return passing(known);
  // Not past: a list of what is open would put it behind all others, and there may be metres yet.
  if (path.minMm <= known.pathMm) return notKnown(parts, next, 'it may have passed the hang-off already, by the range of its path');
  return moment.isStale ? stale(known, path) : ahead(known, path);
}

interface Known {
  readonly moment: LineMoment;
  readonly parts: readonly PartOfPlace[];
  /** What of it gets to the hang-off next. */
  readonly next: PartOfPlace;
  readonly uMm: number;
  readonly pathMm: number;
}

const notKnown = (parts: readonly PartOfPlace[], { fromMm }: PartOfPlace, because: string): PlaceClock =>
  ({ ...NOTHING, state: 'not-known', where: 'not-known', parts, nextMm: fromMm, because });

function passing({ parts, next }: Known): PlaceClock {
  const restMm = parts.filter(({ where, fromMm }) => fromMm >= next.fromMm && where !== 'cut-out').reduce((sum, { fromMm, toMm }) => sum + toMm - fromMm, 0);
  return { ...NOTHING, state: 'passing', where: next.where, parts, nextMm: next.fromMm, hangOff: NONE_LEFT, because: `at the hang-off: ${metres(restMm)} m of it are not past` };
}

function stale({ moment, parts, next, pathMm }: Known, path: PathDistance): PlaceClock {
  const ageUs = moment.ageUs ?? 0;
  const then = `then ${metres(path.minMm - pathMm)} m were left, and nobody knows how far the line ran since`;
  const old = ageUs > RECENT_US ? `the last counter reading was ${Math.floor(ageUs / 60e6)} min old` : `the only recent counter reading was ${Math.floor(ageUs / 1e6)} s old`;
  return { ...NOTHING, state: 'stale', where: 'not-known', parts, nextMm: next.fromMm, because: `${old}; ${then}` };
}

function ahead(known: Known, path: PathDistance): PlaceClock {
  const { moment, parts, next, pathMm } = known;
  const { pace, setup } = moment;
  const hangOff = aheadOf(known, path);
  const upstream = pathMm < 0 ? [WELD_POINT] : [];
  const stations = [...upstream, ...(setup?.stations ?? [])].filter((station) => station.path.maxMm > pathMm)
    .map(({ name, role, path: way }): StationAhead => ({ name, role, ...aheadOf(known, way) }));
  const takenOffMm = takenOff(moment);
  return {
    state: pace === null ? 'not-known' : stateOf(pace), where: next.where, parts, nextMm: next.fromMm, hangOff, takenOffMm, because: becauseOf(moment, hangOff.leftMm, takenOffMm),
    stations: stations.sort((one, other) => one.leftMm - other.leftMm),
  };
}

const stateOf = ({ mmPerUs }: Pace): ClockState => (mmPerUs > 0 ? 'running-out' : mmPerUs < 0 ? 'moving-away' : 'standing');

/** Time that the line has run on since the last reading, µs; 0 at and between readings. */
const sinceUs = ({ figure, ageUs }: LineMoment): number => (figure?.basis === 'after the last reading' ? ageUs ?? 0 : 0);

/** What ran since the last reading is gone, at the speed now; nothing comes back while it runs backwards. */
const takenOff = (moment: LineMoment): number => Math.max(0, (moment.pace?.mmPerUs ?? 0) * sinceUs(moment));

function becauseOf(moment: LineMoment, leftMm: number, takenOffMm: number): string {
  const { pace, ageUs } = moment;
  if (pace === null) return 'minutes not known: fewer than two recent counter readings, so no speed';
  if (pace.mmPerUs === 0) return 'the line stood by its last two readings: no time runs out while it does';
  if (pace.mmPerUs < 0) return 'the line ran backwards by its last two readings: the place moves away from the hang-off';
  const taken = takenOffMm > 0 ? `; ${metres(takenOffMm)} m are taken off for the ${Math.floor((ageUs ?? 0) / 1e6)} s since the last reading` : '';
  return `${metres(leftMm)} m at ${(pace.mmPerUs * 60_000).toFixed(2)} m/min${taken}`;
}

function aheadOf(known: Known, path: PathDistance): Ahead {
  const { moment, pathMm, uMm } = known;
  const { figure, lengths: { lengths }, pace } = moment;
  const plusMinusMm = Math.ceil(COVERAGE_FACTOR * rootSumOfSquares(path.uMm, figure?.uMm ?? 0, uMm, lengths.scaleRelativeU * pathMm));
  const [nearMm, farMm] = [path.minMm - pathMm, path.maxMm - pathMm];
  const leftMm = Math.max(0, nearMm - takenOff(moment));
  if (pace === null) return { leftMm, plusMinusMm, minutes: null };
  const runs = { sinceUs: sinceUs(moment) };
  return {
    leftMm, plusMinusMm,
    minutes: {
      least: minutesFor(Math.max(0, nearMm - plusMinusMm), pace.greatestMmPerUs, runs), central: minutesFor(nearMm, pace.mmPerUs, runs),
      greatest: minutesFor(farMm + plusMinusMm, pace.leastMmPerUs, runs),
    },
  };
}

/** From the last reading on, less the time since; null at a speed that never gets there. */
function minutesFor(mm: number, mmPerUs: number, runs: { readonly sinceUs: number }): number | null {
  return mmPerUs > 0 ? Math.max(0, mm / mmPerUs - runs.sinceUs) / 60e6 : null;
}

const metres = (mm: number): string => (Math.floor(mm) / 1000).toFixed(3);
