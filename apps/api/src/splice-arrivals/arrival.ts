import { COVERAGE_FACTOR } from '#libs/length';
import { microseconds } from '#libs/persistence';
import type { GivenPlace } from '../line/given-place.js';
import { Refused } from '../http/problem.js';
import type { SpliceStep } from '../splice-steps/splice-step.entity.js';
import type { SpliceVersion } from '../splices/splice.entity.js';
import { attempt } from '../trace/attempt.js';
import { linkTo } from '../trace/record-link.js';
import type { RecordLink } from '../trace/trace.dto.js';
import { stateOf } from './arrival-state.js';
import { atStations, type TakenPlace } from './arrival-stations.js';
import { futureFootage } from './at-station.js';
import { gateOf, outsideMm, stripGate, type Gate } from './gate.js';
import type { KnownString } from './known-string.js';
import { isConfirmed, leavingStrip, type CoilRun } from './leaving-strip.js';
import type { ArrivalGateAnswer, ConfirmedPlaceAnswer, SpliceArrivalAnswer, UpstreamPrediction } from './splice-arrivals.dto.js';

/** The splice at this place in string order: predicted, confirmed, and at every station. @throws LengthError for lengths that contradict themselves */
export function arrivalOf(known: KnownString, index: number): SpliceArrivalAnswer {
  const { splices, coils, sightings, reached } = known;
  const splice = splices[index];
  if (splice === undefined) throw new RangeError(`no splice ${index} of ${splices.length}`);
  const own = sightings.filter(({ spliceId }) => spliceId === splice.id);
  const strip = byStrip(known, splice.leavingCoilId, splices.slice(0, index), splice);
  const upstream = byUpstream(known, splice, own);
  const confirmed = isConfirmed(splice) ? confirmedAnswer(splice, strip) : null;
  const place: TakenPlace = { mm: splice.span.fromMm, uMm: Number(splice.fromUMm), by: confirmed === null ? 'by its place on record, which is not confirmed' : 'by its confirmed place' };
  const expected = gateAtWeldPoint(place, confirmed === null ? (typeof strip === 'string' ? null : strip.gate) : null);
  return {
    splice: linkTo('splice', splice, splice.number), leavingCoil: coilLink(coils, splice.leavingCoilId), enteringCoil: coilLink(coils, splice.enteringCoilId),
    ...stripAnswer(strip), ...upstream, confirmed, confirmedBecause: confirmed === null ? notConfirmed(splice) : null,
    atWeldPoint: stateOf(expected.span, reached?.footageMm ?? null), ...stationsAnswer(known, place, own),
  };
}

/** The end of the coil that was fed last; null on a string that nothing was fed to. @throws as arrivalOf */
export function nextArrival(known: KnownString): SpliceArrivalAnswer | null {
  const { splices, coils, reached } = known;
  const coilId = coilFedLast(splices, known.strip.runs);
  if (coilId === null) return null;
  const strip = byStrip(known, coilId, splices, null);
  const unknown = { splice: null, leavingCoil: coilLink(coils, coilId), enteringCoil: null, byStationsUpstream: [], byStationsUpstreamBecause: 'it is not on record yet', confirmed: null, confirmedBecause: 'it is not on record yet' };
  if (typeof strip === 'string') {
    return { ...unknown, ...stripAnswer(strip), atWeldPoint: 'not-known', stations: [], stationsBecause: `none, because ${strip}` };
  }
  const { bestMm, span } = strip.gate;
  const place: TakenPlace = { mm: bestMm, uMm: (span.toMm - 1 - span.fromMm) / 2 / COVERAGE_FACTOR, by: 'by the length of the strip' };
  return { ...unknown, ...stripAnswer(strip), atWeldPoint: stateOf(span, reached?.footageMm ?? null), ...stationsAnswer(known, place, []) };
}

/** The coil that the last splice leads into, or that of a later segment where no splice says so. */
function coilFedLast(splices: KnownString['splices'], runs: readonly CoilRun[]): string | null {
  const [splice, run] = [splices.at(-1), runs.at(-1)];
  if (splice === undefined || run === undefined) return splice?.enteringCoilId ?? run?.coilId ?? null;
  const isLater = run.coilId !== splice.leavingCoilId && run.segments[0].span.fromMm > splice.span.toMm;
  return isLater ? run.coilId : splice.enteringCoilId;
}

interface ByStrip {
  readonly gate: Gate;
  readonly restsOn: readonly string[];
}

function byStrip({ strip }: KnownString, coilId: string, before: readonly SpliceVersion[], end: SpliceVersion | null): ByStrip | string {
  const found = leavingStrip(strip, coilId, before, end);
  return typeof found === 'string' ? found : { gate: stripGate(found.strip), restsOn: found.restsOn };
}

function stripAnswer(strip: ByStrip | string): Pick<SpliceArrivalAnswer, 'byStripLength' | 'byStripLengthBecause'> {
  return typeof strip === 'string' ? { byStripLength: null, byStripLengthBecause: strip } : { byStripLength: gateAnswer(strip.gate, strip.restsOn), byStripLengthBecause: null };
}

const gateAnswer = ({ bestMm, span }: Gate, restsOn: readonly string[]): ArrivalGateAnswer => ({ bestMm, gate: span, restsOn: [...restsOn] });

function confirmedAnswer({ span, fromUMm }: SpliceVersion, strip: ByStrip | string): ConfirmedPlaceAnswer {
  const outside = typeof strip === 'string' ? null : outsideMm(strip.gate, span.fromMm);
  return { span, plusMinusMm: Math.ceil(COVERAGE_FACTOR * Number(fromUMm)), isInGate: outside === null ? null : outside === 0, outsideMm: outside };
}

function notConfirmed({ confirmed }: SpliceVersion): string {
  return confirmed ? 'it is said to be confirmed, but its place was given by a station upstream: that is a prediction' : 'it was not seen on the pipe';
}

function gateAtWeldPoint({ mm, uMm }: TakenPlace, byStripLength: Gate | null): Gate {
  return byStripLength ?? gateOf({ bestMm: mm, leastMm: mm, mostMm: mm, uMm });
}

/** The place first given by a station upstream, and sightings at such stations. */
function byUpstream(known: KnownString, splice: SpliceVersion, sightings: readonly SpliceStep[]): Pick<SpliceArrivalAnswer, 'byStationsUpstream' | 'byStationsUpstreamBecause'> {
  const first = known.firstSplices.get(splice.id) ?? splice;
  const places = (isGivenAlike(first, splice) ? [splice] : [first, splice]).filter(({ predicted }) => predicted);
  const found = [
    ...places.flatMap(({ given, observedAt }) => upstreamPrediction(known, given.from, observedAt, 'place')),
    ...sightings.flatMap(({ station, observedAt }) => upstreamPrediction(known, { station }, observedAt, 'sighting')),
  ];
  return { byStationsUpstream: found, byStationsUpstreamBecause: found.length > 0 ? null : 'neither its place was given by a station upstream of the weld point, nor is a sighting there on record that the counter was read at' };
}

/** Both versions say the same of where it begins, whatever was derived of it since. */
const isGivenAlike = (one: SpliceVersion, other: SpliceVersion): boolean =>
  one.observedAt === other.observedAt && JSON.stringify(one.given.from) === JSON.stringify(other.given.from);

function upstreamPrediction({ model }: KnownString, place: GivenPlace, at: string, from: 'place' | 'sighting'): UpstreamPrediction[] {
  const station = model.line.setupAt(microseconds(at))?.stations.find(({ name }) => name === place.station);
  if (station === undefined || station.path.minMm + station.path.maxMm >= 0) return [];
  const weld = from === 'place' ? weldByPlace(model, place, at) : weldByReadings(model, at);
  if (weld === null) return [];
  const { minMm, maxMm } = station.path;
  const distance = minMm === maxMm ? `${-minMm} mm` : `${-maxMm} to ${-minMm} mm`;
  const restsOn = [`${weld.mm.toFixed(0)} mm at the weld point when it was seen ${distance} upstream`];
  return [{ station: station.name, at, from, expected: gateAnswer(futureFootage(weld, station.path), restsOn) }];
}

/** A correction since may have taken away what a place was given by: then it says nothing any more. */
function weldByPlace({ line }: KnownString['model'], place: GivenPlace, at: string): { mm: number; uMm: number } | null {
  try {
    return line.weldFootage('from', place, at);
  } catch (error) {
    if (error instanceof Refused) return null;
    throw error;
  }
}

function weldByReadings({ lengths }: KnownString['model'], at: string): { mm: number; uMm: number } | null {
  const { found } = attempt(() => lengths.weldFootageAt(microseconds(at)));
  return found === null || found.basis === 'after the last reading' ? null : { mm: found.footageMm, uMm: found.uMm };
}

function stationsAnswer(known: KnownString, place: TakenPlace, sightings: readonly SpliceStep[]): Pick<SpliceArrivalAnswer, 'stations' | 'stationsBecause'> {
  const stations = atStations(known, place, sightings);
  const elsewhere = [...new Set(sightings.map(({ station }) => station ?? ''))].filter((name) => !stations.some((one) => one.name === name));
  if (stations.length === 0) return { stations, stationsBecause: 'none, because no line set-up was in force' };
  return { stations, stationsBecause: elsewhere.length === 0 ? place.by : `${place.by}; it was also seen at ${elsewhere.join(', ')}, which this set-up does not have` };
}

function coilLink(coils: KnownString['coils'], id: string): RecordLink | null {
  const coil = coils.get(id);
  return coil === undefined ? null : linkTo('coil', coil, coil.number);
}
