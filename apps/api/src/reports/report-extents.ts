import { IntervalSet, type Interval } from '#libs/intervals';
import { coilLengthMm, COVERAGE_FACTOR, roundMm, stripMap } from '#libs/length';
import { microseconds } from '#libs/persistence';
import type { NonconformanceExtent, StringGeometry, StripExtent } from '#libs/reports';
import type { Coil } from '../coils/coil.entity.js';
import type { CoilExtent, Nonconformance } from '../nonconformances/nonconformance.entity.js';
import type { CoilSegmentVersion } from '../segments/coil-segment.entity.js';
import type { ReportKnowledge, StringKnowledge } from './report-knowledge.js';
import { attempt } from '../trace/attempt.js';
import { locationAt, locationNow, placesOn, standingOf, type PlacedOnWall, type Standing } from './standing.js';

const MARKS = {
  pastTie: 'past the last tie: depth rests on the default length ratio',
  countedBack: 'inner wall: depth counted back from the weld point',
  predicted: 'place derived before the pipe was made, to be confirmed',
  lengthFromMass: 'length of the coil reckoned from its mass',
} as const;

/** A splice within this of an end of a segment is the one that ends it. Our own choice. */
const SPLICE_REACH_MM = 1000;

/** Footage with what is known of its ends. */
interface Stretch {
  readonly footage: Interval;
  readonly uMm: number;
  readonly predicted: boolean;
  readonly strips: readonly StripExtent[];
  /** The segments that its strip follows from. */
  readonly segments: readonly CoilSegmentVersion[];
  readonly marks: readonly string[];
}

/** Every stretch of pipe and strip that a nonconformance concerns, with where it was and where it is. Pure. */
export function extentsOf(knowledge: ReportKnowledge): NonconformanceExtent[] {
  const { row, strings } = knowledge;
  const own = row.stringId === null ? undefined : strings.get(row.stringId);
  const pipe = own === undefined ? [] : row.extent.map((footage) => pipeExtent(row, own, pipeStretch(row, own, footage)));
  return [...pipe, ...row.coilExtents.flatMap((extent) => coilExtents(knowledge, extent))];
}

function pipeStretch(row: Nonconformance, { model, ground }: StringKnowledge, footage: Interval): Stretch {
  const given = row.given
    .map((interval) => model.line.placed(interval, row.observedAt))
    .filter(({ span }) => overlap(span, footage) !== null);
  const touched = ground.pipe.segments.filter(({ segment }) => overlap(segment.span, footage) !== null);
  return {
    footage,
    uMm: Math.max(0, ...given.flatMap(({ fromUMm, toUMm }) => [Number(fromUMm), Number(toUMm)])),
    predicted: given.some(({ predicted }) => predicted),
    strips: touched.flatMap(({ segment, coil }) => {
      const part = overlap(segment.span, footage);
      return part === null ? [] : [stripOf(coil, mapped(stripMap(segmentOf(segment)), part))];
    }),
    segments: touched.map(({ segment }) => segment),
    marks: [],
  };
}

/** What became of the strip that is named: an extent for each string it went into, and one for each rest that went nowhere. */
function coilExtents({ row, coils, coilSegments, strings }: ReportKnowledge, named: CoilExtent): NonconformanceExtent[] {
  const coil = coils.get(named.coilId);
  if (coil === undefined) return [];
  const fromMm = named.stripFromMm ?? 0;
  const strip = { fromMm, toMm: named.stripToMm ?? Math.max(lengthOf(coil).mm, fromMm + 1) };
  const used = coilSegments.flatMap((segment) => {
    const part = segment.coilId === coil.id ? overlap(segment.stripSpan, strip) : null;
    const string = strings.get(segment.stringId);
    return part === null || string === undefined ? [] : [{ segment, part, string }];
  });
  const inPipe = used.map(({ segment, part, string }) => pipeExtent(row, string, {
    footage: mapped(stripMap(segmentOf(segment)).inverse(), part),
    uMm: Math.max(Number(segment.fromUMm), Number(segment.toUMm)),
    predicted: segment.predicted,
    strips: [stripOf(coil, part)],
    segments: [segment],
    marks: coilMarks(coil),
  }));
  const rests = IntervalSet.of(strip).subtract(IntervalSet.from(used.map(({ part }) => part)));
  return [...inPipe, ...rests.intervals.map((rest) => stripOnly(row, coil, rest))];
}

function pipeExtent(row: Nonconformance, { model, ground }: StringKnowledge, stretch: Stretch): NonconformanceExtent {
  const { footage, uMm } = stretch;
  const standing = standingOf(model);
  const [outerWall, innerWall] = (['outer', 'inner'] as const).map((name): PlacedOnWall[] => {
    return standing.walls === null ? [] : placesOn(standing.walls[name], footage, uMm);
  }) as [PlacedOnWall[], PlacedOnWall[]];
  const splices = ground.pipe.splices.filter(({ confirmed, span }) => !confirmed && endsOne(stretch.segments, span));
  return {
    basis: row.extentBasis,
    string: geometryOf({ model, ground }, standing, footage),
    strips: stretch.strips,
    footage: plain(footage),
    footageUncertaintyMm: uMm > 0 ? Math.ceil(COVERAGE_FACTOR * uMm) : null,
    lastKnownGoodFootageMm: null,
    firstKnownGoodFootageMm: null,
    locationWhenFound: locationAt(model.lengths, footage, row.observedAt),
    locationNow: locationNow(standing, footage),
    outerWall: outerWall.map(withoutBases),
    innerWall: innerWall.map(withoutBases),
    depthsUnknown: standing.unknown,
    marks: [
      ...basisMarks([...outerWall, ...innerWall]),
      ...splices.map(({ number }) => `unconfirmed splice ${number}: the strip here is not confirmed`),
      ...(stretch.predicted ? [MARKS.predicted] : []),
      ...stretch.marks,
    ],
  };
}

function stripOnly(row: Nonconformance, coil: Coil, strip: Interval): NonconformanceExtent {
  return {
    basis: row.extentBasis,
    string: null,
    strips: [stripOf(coil, strip)],
    footage: null,
    footageUncertaintyMm: null,
    lastKnownGoodFootageMm: null,
    firstKnownGoodFootageMm: null,
    locationWhenFound: 'strip of the coil',
    locationNow: 'strip of the coil; no segment of a string is recorded as made of it',
    outerWall: [],
    innerWall: [],
    depthsUnknown: 'strip that stands in no string has no depth',
    marks: coilMarks(coil),
  };
}

function geometryOf({ model, ground }: StringKnowledge, standing: Standing, { toMm }: Interval): StringGeometry {
  // Readings outside every counter period tell no footage: then the segments say how long the string is.
  const { at } = standing;
  const madeMm = at === null ? 0 : (attempt(() => model.lengths.maxWeldFootage(microseconds(at))).found ?? 0);
  const ends = ground.pipe.segments.map(({ segment }) => segment.span.toMm);
  return {
    name: model.string.name,
    lengthMm: Math.max(toMm, roundMm(madeMm), ...ends),
    depthDatum: ground.well.datum,
    hangOffDepthMm: model.hangOff?.mdMm ?? null,
    shoeDepthMm: standing.walls?.shoeMdMm ?? null,
  };
}

function basisMarks(places: readonly PlacedOnWall[]): string[] {
  const bases = new Set(places.flatMap((place) => place.bases));
  return [
    ...(bases.has('past the last tie (default ratio)') ? [MARKS.pastTie] : []),
    ...(bases.has('counted back from the weld point') ? [MARKS.countedBack] : []),
  ];
}

const withoutBases = ({ depth, uncertaintyMm }: PlacedOnWall): Omit<PlacedOnWall, 'bases'> => ({ depth, uncertaintyMm });

/** True for a splice that stands at either end of one of the segments, so that their strip rests on its place. */
function endsOne(segments: readonly CoilSegmentVersion[], { fromMm, toMm }: Interval): boolean {
  return segments.some(({ span }) =>
    [span.fromMm, span.toMm].some((endMm) => fromMm - SPLICE_REACH_MM <= endMm && endMm < toMm + SPLICE_REACH_MM),
  );
}

const segmentOf = ({ id, version, span, stripSpan, runs }: CoilSegmentVersion): Parameters<typeof stripMap>[0] => ({
  record: { kind: 'coil-segment', id, version }, footage: span, strip: stripSpan, runs,
});

function mapped(map: ReturnType<typeof stripMap>, { fromMm, toMm }: Interval): Interval {
  const [a, b] = [roundMm(map.atMm(fromMm)), roundMm(map.atMm(toMm))];
  return { fromMm: Math.min(a, b), toMm: Math.max(a, b, Math.min(a, b) + 1) };
}

function lengthOf(coil: Coil): { readonly mm: number; readonly isFromMass: boolean } {
  if (coil.lengthMm !== null) return { mm: coil.lengthMm, isFromMass: false };
  return { mm: roundMm(coilLengthMm(Number(coil.massKg), Number(coil.widthMm), Number(coil.thicknessMm))), isFromMass: true };
}

const coilMarks = (coil: Coil): string[] => (lengthOf(coil).isFromMass ? [`coil ${coil.number}: ${MARKS.lengthFromMass}`] : []);

function stripOf(coil: Coil, interval: Interval): StripExtent {
  return { coil: coil.number, coilLengthMm: Math.max(lengthOf(coil).mm, interval.toMm), interval: plain(interval) };
}

const plain = ({ fromMm, toMm }: Interval): { fromMm: number; toMm: number } => ({ fromMm, toMm });

function overlap(a: Interval, b: Interval): Interval | null {
  const [fromMm, toMm] = [Math.max(a.fromMm, b.fromMm), Math.min(a.toMm, b.toMm)];
  return fromMm < toMm ? { fromMm, toMm } : null;
}
