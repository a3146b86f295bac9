import { countSplices, isOneFewer } from '../reconciliation/splice-count.js';
import type { KnownString } from './known-string.js';
import type { SpliceArrivalAnswer, SpliceAtStation, StationSpliceCount, StringSpliceCount } from './splice-arrivals.dto.js';

/** Splices against runs of coil: one fewer. */
export function countOf({ strip, splices }: Pick<KnownString, 'strip' | 'splices'>): StringSpliceCount {
  const runs = strip.runs.length;
  return { coilRuns: runs, splices: splices.length, agrees: isOneFewer(splices.length, runs) };
}

interface SeenAt {
  readonly splice: string;
  readonly at: SpliceAtStation;
}

const labelOf = ({ splice }: SpliceArrivalAnswer): string => `splice ${splice?.label ?? 'to come'}`;

/** Every splice at each station downstream, by the names of the stations. */
function byStation(arrivals: readonly SpliceArrivalAnswer[]): Map<string, SeenAt[]> {
  const found = new Map<string, SeenAt[]>();
  for (const arrival of arrivals) {
    for (const at of arrival.stations.filter(({ isUpstream }) => !isUpstream)) {
      const own = found.get(at.name) ?? [];
      own.push({ splice: labelOf(arrival), at });
      found.set(at.name, own);
    }
  }
  return found;
}

/** Sightings counted at every station downstream, against the splices that are past it. */
export function stationCounts(arrivals: readonly SpliceArrivalAnswer[]): StationSpliceCount[] {
  return [...byStation(arrivals)].map(([name, own]) => ({
    name,
    past: own.filter(({ at }) => at.state === 'past').length,
    due: own.filter(({ at }) => at.state === 'due').length,
    seen: own.filter(({ at }) => at.sightings.length > 0).length,
    sightings: own.reduce((sum, { at }) => sum + at.sightings.length, 0),
    agrees: own.every(({ at }) => !at.isMissing && !isTooEarly(at) && at.state !== 'not-known'),
  }));
}

const isTooEarly = ({ state, sightings }: SpliceAtStation): boolean => state === 'to-come' && sightings.length > 0;

/** What does not fit together: splices missed, false, doubled or not seen, and stations that do not stand where they are said to. */
export function findingsOf(known: KnownString, arrivals: readonly SpliceArrivalAnswer[], next: SpliceArrivalAnswer | null): string[] {
  return [
    ...(known.reached === null && arrivals.length > 0 ? ['the master counter has no reading with a footage: whether splices passed the weld point or a station is not known'] : []),
    ...countFindings(known),
    ...doubled(known),
    ...arrivals.flatMap(gateFindings),
    ...missedFindings(next, known.reached?.footageMm ?? null),
    ...[...byStation(arrivals)].flatMap(([name, own]) => stationFindings(name, own)),
  ];
}

function countFindings(known: KnownString): string[] {
  const count = countOf(known);
  const { withoutSplice, withoutJointIds } = countSplices(known.segments, known.splices);
  const numberOf = (id: string): string => known.coils.get(id)?.number ?? id;
  return [
    ...(count.agrees ? [] : [`${count.coilRuns} runs of coil and ${count.splices} splices: one splice fewer than runs was expected`]),
    ...withoutSplice.map(({ footageMm, leavingCoilId, enteringCoilId }) => `missed: at ${footageMm} mm coil ${numberOf(enteringCoilId)} follows coil ${numberOf(leavingCoilId)}, and no splice joins the two`),
    ...known.splices.filter(({ id }) => withoutJointIds.includes(id)).map(({ number, leavingCoilId, enteringCoilId }) =>
      `splice ${number} joins coils ${numberOf(leavingCoilId)} and ${numberOf(enteringCoilId)}, whose segments do not follow one another yet`),
  ];
}

/** Two splices of the same two coils: one of them is doubled, unless the coils were fed twice. */
function doubled({ splices }: KnownString): string[] {
  return splices.flatMap((splice, index) => {
    const other = splices.slice(0, index).find(({ leavingCoilId, enteringCoilId }) => leavingCoilId === splice.leavingCoilId && enteringCoilId === splice.enteringCoilId);
    return other === undefined ? [] : [`doubled: splices ${other.number} and ${splice.number} join the same two coils`];
  });
}

function gateFindings(arrival: SpliceArrivalAnswer): string[] {
  const { confirmed, byStripLength, atWeldPoint } = arrival;
  const gate = byStripLength === null ? '' : `${byStripLength.gate.fromMm} to ${byStripLength.gate.toMm - 1} mm`;
  if (confirmed !== null && confirmed.outsideMm !== null && confirmed.outsideMm !== 0) {
    const side = confirmed.outsideMm < 0 ? 'before' : 'behind';
    return [`${labelOf(arrival)} is confirmed at ${confirmed.span.fromMm} mm, ${Math.abs(confirmed.outsideMm)} mm ${side} its gate by strip length, ${gate}: a splice missed or false, a coil mixed up, counter slip, or strip not accounted for`];
  }
  return confirmed === null && atWeldPoint === 'past' ? [`${labelOf(arrival)} is past the weld point${gate === '' ? '' : `, gate ${gate}`}, and its place was not confirmed`] : [];
}

function missedFindings(next: SpliceArrivalAnswer | null, reachedMm: number | null): string[] {
  if (next?.atWeldPoint !== 'past' || next.byStripLength === null || reachedMm === null) return [];
  const { fromMm, toMm } = next.byStripLength.gate;
  return [`missed: coil ${next.leavingCoil?.label ?? ''} should have run out between ${fromMm} and ${toMm - 1} mm, and ${Math.floor(reachedMm)} mm are made without a splice on record`];
}

function stationFindings(name: string, own: readonly SeenAt[]): string[] {
  const compared = own.flatMap(({ at }) => at.sightings.filter(({ agrees }) => agrees !== null));
  const off = compared.flatMap(({ differenceMm, agrees }) => (agrees === false && differenceMm !== null ? [differenceMm] : []));
  const missing = own.filter(({ at }) => at.isMissing);
  const isConstant = off.length >= 2 && off.length === compared.length && (Math.min(...off) > 0 || Math.max(...off) < 0);
  return [
    ...(missing.length === 0 ? [] : [`past ${name} without a sighting there on record: ${missing.map(({ splice }) => splice).join(', ')}`]),
    ...own.filter(({ at }) => isTooEarly(at)).map(({ splice }) => `${splice} is recorded as seen at ${name}, where it cannot have come yet`),
    ...own.filter(({ at }) => at.sightings.length > 1).map(({ splice, at }) => `${splice} was seen ${at.sightings.length} times at ${name}: doubled, or another splice`),
    ...own.flatMap(({ splice, at }) => at.sightings.filter(({ agrees }) => agrees === false).map(({ words }) => `${splice} at ${name}: ${words}`)),
    ...(isConstant ? [`all ${off.length} sightings at ${name} are off to the same side, by ${Math.min(...off)} to ${Math.max(...off)} mm: a change of the set-up may not be on record`] : []),
  ];
}
