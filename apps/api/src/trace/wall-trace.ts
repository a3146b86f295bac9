import { IntervalSet, type Interval } from '#libs/intervals';
import {
  clockHoursDownHole, COVERAGE_FACTOR, facingOf, LengthError, outerWallThicknessMm, spliceHandOn,
  type LengthModel, type Wall, type WallPiece,
} from '#libs/length';
import type { WellPath } from '#libs/survey';
import { commonAnswer } from '../records/record-answer.js';
import type { RecordVersion } from '#libs/persistence';
import type { Inspection } from '../inspections/inspection.entity.js';
import type { Nonconformance } from '../nonconformances/nonconformance.entity.js';
import type { SpliceVersion } from '../splices/splice.entity.js';
import type { Pipe, PipeCut, PipeSegment } from './ground.js';
import { footageOfStrip, stripMapOf } from './strip-footage.js';
import type {
  CutNearby, DepthSpan, FacingAnswer, InspectionOnWall, NonconformanceOnWall, RecordLink, SegmentAnswer, SpliceOnWall,
  WallThicknessAnswer,
} from './trace.dto.js';

/** Cut-outs are told when they lie this close to what was asked. Our own choice. */
export const NEARBY_MM = 10_000;

/** What one wall is asked: the depths, and the footage they mean there. */
export interface AskedOnWall {
  readonly md: IntervalSet;
  readonly footage: IntervalSet;
}

/** No place on the pipe is entered with more doubt than this; what lies further off is not looked at. Our own choice. */
const PLACE_DOUBT_MM = 20_000;

/** The footage whose metal may stand in what was asked. */
const nearby = ({ asked, doubtMm }: WallInputs): IntervalSet => asked.footage.grow(doubtMm + PLACE_DOUBT_MM);

/** Everything the answer for one wall is made of. */
export interface WallInputs {
  readonly wall: Wall;
  readonly model: LengthModel;
  readonly asked: AskedOnWall;
  /** How far, as footage, the depths asked about may be off on this wall (k = 2). */
  readonly doubtMm: number;
  readonly pipe: Pipe;
  readonly path: WellPath | null;
}

export const linkTo = (kind: string, row: RecordVersion, label: string): RecordLink => ({
  kind,
  id: row.id,
  version: row.version,
  label,
});

const spanOf = (interval: Interval): { fromMm: number; toMm: number } => ({
  fromMm: interval.fromMm,
  toMm: interval.toMm,
});

const plusMinus = (uMm: number): number => Math.ceil(COVERAGE_FACTOR * uMm);

function depthSpan(piece: WallPiece, uFromMm: number, uToMm: number): DepthSpan {
  return {
    mdFromMm: piece.md.fromMm,
    mdToMm: piece.md.toMm,
    mdFromPlusMinusMm: plusMinus(uFromMm),
    mdToPlusMinusMm: plusMinus(uToMm),
  };
}

/** The widest a piece can be with its ends as uncertain as they are. */
function possibleMd(piece: WallPiece, uFromMm: number, uToMm: number): Interval {
  return { fromMm: piece.md.fromMm - plusMinus(uFromMm), toMm: piece.md.toMm + plusMinus(uToMm) };
}

/** Adds a record's own footage uncertainty to that of the wall at each end of its piece. */
function withOwn(wall: Wall, piece: WallPiece, ownFromUMm: number, ownToUMm: number): [number, number] {
  const [upper, lower] = wall.name === 'outer' ? [ownFromUMm, ownToUMm] : [ownToUMm, ownFromUMm];
  return [Math.hypot(piece.uMdFromMm, piece.ratioFrom * upper), Math.hypot(piece.uMdToMm, piece.ratioTo * lower)];
}

/** The stretches of one wall that stand, or may stand, in what was asked; from the top down. */
export function segmentsOn(inputs: WallInputs): SegmentAnswer[] {
  const { wall, pipe } = inputs;
  const near = nearby(inputs);
  const answers = pipe.segments.filter(({ segment }) => near.overlaps(segment.span)).flatMap((one) =>
    wall.piecesOfFootage(one.segment.span).flatMap((piece) => segmentAnswer(inputs, one, piece)),
  );
  return answers.sort((a, b) => a.mdFromMm - b.mdFromMm || a.mdToMm - b.mdToMm);
}

function segmentAnswer(inputs: WallInputs, one: PipeSegment, piece: WallPiece): SegmentAnswer[] {
  const { wall, asked, path } = inputs;
  const { segment } = one;
  const [uFrom, uTo] = withOwn(wall, piece, Number(segment.fromUMm), Number(segment.toUMm));
  const possible = possibleMd(piece, uFrom, uTo);
  if (!asked.md.overlaps(possible)) return [];
  const inside = asked.md.intersect(piece.md).hull();
  const shown = inside === null ? piece : clipped(wall, piece, inside);
  // A cut end is where the question ends, not where the coil does: its depth is as asked.
  const ends: [number, number] = [
    shown.md.fromMm === piece.md.fromMm ? uFrom : shown.uMdFromMm,
    shown.md.toMm === piece.md.toMm ? uTo : shown.uMdToMm,
  ];
  const certain = { fromMm: piece.md.fromMm + plusMinus(uFrom), toMm: piece.md.toMm - plusMinus(uTo) };
  const strip = stripOf(one, shown.footage);
  return [
    {
      ...depthSpan(shown, ...ends),
      presence: inside === null ? 'possible' : certain.fromMm < certain.toMm && asked.md.overlaps(certain) ? 'certain' : 'likely',
      possibleMd: possible,
      depthBasis: shown.basisFrom === shown.basisTo ? shown.basisFrom : `${shown.basisFrom}, then ${shown.basisTo}`,
      footage: spanOf(shown.footage),
      tvd: tvdEnds(path, shown.md),
      coil: linkTo('coil', one.coil, one.coil.number),
      heat: linkTo('heat', one.heat, one.heat.number),
      certificate: one.certificate === null ? null : linkTo('certificate', one.certificate, one.certificate.number),
      segment: linkTo('coil-segment', segment, one.coil.number),
      strip,
      runs: segment.runs,
      facing: facing(wall),
      wallThickness: thickness(inputs, one, shown.ratioFrom),
    },
  ];
}

/** The part of a piece inside a depth interval, with the uncertainty of the new ends. */
function clipped(wall: Wall, piece: WallPiece, inside: Interval): WallPiece {
  if (inside.fromMm === piece.md.fromMm && inside.toMm === piece.md.toMm) return piece;
  const parts = wall.piecesAtDepth(inside).pieces.filter(
    ({ footage }) => footage.fromMm < piece.footage.toMm && footage.toMm > piece.footage.fromMm,
  );
  const [first] = parts;
  if (first === undefined) return { ...piece, md: inside };
  return {
    ...first,
    md: inside,
    footage: {
      fromMm: Math.max(first.footage.fromMm, piece.footage.fromMm),
      toMm: Math.min(first.footage.toMm, piece.footage.toMm),
    },
  };
}

function stripOf({ segment }: PipeSegment, footage: Interval): { fromMm: number; toMm: number } {
  const map = stripMapOf(segment);
  const [a, b] = [map.atMm(footage.fromMm), map.atMm(footage.toMm)];
  return { fromMm: Math.min(a, b), toMm: Math.max(a, b) };
}

function tvdEnds(path: WellPath | null, md: Interval): { fromMm: number; toMm: number } | null {
  const range = path?.mdRange();
  if (path === null || range === undefined || md.fromMm < range.fromMdMm || md.toMm > range.toMdMm) return null;
  return { fromMm: Math.round(path.tvdAt(md.fromMm)), toMm: Math.round(path.tvdAt(md.toMm)) };
}

function facing({ name }: Wall): FacingAnswer {
  return { formedInside: facingOf('formed-inside', name), formedOutside: facingOf('formed-outside', name) };
}

function thickness({ wall, model }: WallInputs, { coil }: PipeSegment, lambda: number): WallThicknessAnswer {
  const stripMm = Number(coil.thicknessMm);
  if (wall.name === 'inner') return { stripMm, estimatedMm: stripMm, basis: 'strip thickness; forming is taken not to change it' };
  const { kappa } = model.lengths;
  if (kappa === null) return { stripMm, estimatedMm: null, basis: 'not computable: the diameter ratio κ is not recorded' };
  const estimatedMm = Math.round(outerWallThicknessMm(stripMm, kappa, lambda) * 1000) / 1000;
  return { stripMm, estimatedMm, basis: `t/(κ λ), κ ${kappa}, λ ${lambda.toFixed(4)}; advisory` };
}

/** The splices whose metal stands, or may stand, in what was asked. */
export function splicesOn(inputs: WallInputs): SpliceOnWall[] {
  const { wall, asked, pipe } = inputs;
  const near = nearby(inputs);
  const answers = pipe.splices.filter(({ span }) => near.overlaps(span)).flatMap((splice) =>
    wall.piecesOfFootage(splice.span).flatMap((piece) => {
      const [uFrom, uTo] = withOwn(wall, piece, Number(splice.fromUMm), Number(splice.toUMm));
      if (!asked.md.overlaps(possibleMd(piece, uFrom, uTo))) return [];
      return [spliceAnswer(wall, splice, piece, uFrom, uTo)];
    }),
  );
  return answers.sort((a, b) => a.mdFromMm - b.mdFromMm);
}

function spliceAnswer(wall: Wall, splice: SpliceVersion, piece: WallPiece, uFrom: number, uTo: number): SpliceOnWall {
  return {
    ...depthSpan(piece, uFrom, uTo),
    splice: linkTo('splice', splice, splice.number),
    footage: spanOf(splice.span),
    confirmed: splice.confirmed,
    verdict: splice.verdict,
    doubt: splice.doubt,
    handHere: splice.hand === 'square' ? 'square' : spliceHandOn(wall.name, splice.hand),
  };
}

/** Cut-outs whose re-join is within 10 m of what was asked. */
export function cutsOn({ wall, asked, pipe }: WallInputs): CutNearby[] {
  return pipe.cuts.flatMap((cut) => cutNearby(wall, asked.md, cut)).sort((a, b) => a.rejoinMdMm - b.rejoinMdMm);
}

function cutNearby(wall: Wall, asked: IntervalSet, { cutOut, rejoin }: PipeCut): CutNearby[] {
  const figure = onWall(() => wall.mdAt(cutOut.span.toMm, Number(cutOut.toUMm)));
  if (figure === null) return [];
  const mdMm = Math.round(figure.mdMm);
  const distanceMm = distance(asked, mdMm);
  if (distanceMm > NEARBY_MM) return [];
  return [
    {
      cutOut: linkTo('cut-out', cutOut, cutOut.cause),
      rejoinMdMm: mdMm,
      rejoinMdPlusMinusMm: plusMinus(figure.uMm),
      removedMm: cutOut.span.toMm - cutOut.span.fromMm,
      distanceMm,
      rejoin: rejoin === null ? null : linkTo('rejoin', rejoin, rejoin.procedure),
      rejoinVerdict: rejoin?.verdict ?? null,
    },
  ];
}

function distance(asked: IntervalSet, mdMm: number): number {
  const distances = asked.intervals.map(({ fromMm, toMm }) => Math.max(fromMm - mdMm, mdMm - toMm + 1, 0));
  return Math.min(...distances, Infinity);
}

/** The answer of a look-up on a wall, or null where the footage is not on it. */
function onWall<T>(look: () => T): T | null {
  try {
    return look();
  } catch (error) {
    if (error instanceof LengthError) return null;
    throw error;
  }
}

/** Inspection entries on metal that stands, or may stand, in what was asked. */
export function inspectionsOn(inputs: WallInputs, inspections: readonly Inspection[]): InspectionOnWall[] {
  const { wall, asked } = inputs;
  const near = nearby(inputs);
  const answers = inspections.filter(({ span }) => near.overlaps(span)).flatMap((row) =>
    wall.piecesOfFootage(row.span).flatMap((piece) => {
      const [uFrom, uTo] = withOwn(wall, piece, Number(row.fromUMm), Number(row.toUMm));
      if (!asked.md.overlaps(possibleMd(piece, uFrom, uTo))) return [];
      return [inspectionAnswer(wall, row, piece, uFrom, uTo)];
    }),
  );
  return answers.sort((a, b) => a.mdFromMm - b.mdFromMm);
}

function inspectionAnswer(wall: Wall, row: Inspection, piece: WallPiece, uFrom: number, uTo: number): InspectionOnWall {
  return {
    ...depthSpan(piece, uFrom, uTo),
    inspection: linkTo('inspection', row, `${row.kind}: ${row.characteristic}`),
    footage: spanOf(row.span),
    observedAt: row.observedAt,
    doneBy: row.doneBy,
    late: commonAnswer(row).late,
    characteristic: row.characteristic,
    measured: row.value === null ? null : `${row.value} ${row.unit ?? ''}`.trim(),
    verdict: row.verdict,
    outOfSpecification: row.marks.some(({ kind }) => kind === 'out-of-specification'),
    facing: row.surface === null ? null : facingOf(row.surface, wall.name),
    clockHoursDownHole:
      row.clockHours === null || row.viewing === null ? null : clockHoursDownHole(Number(row.clockHours), row.viewing),
  };
}

/** Nonconformances whose footage or coil stands in what was asked. */
export function nonconformancesOn(inputs: WallInputs, rows: readonly Nonconformance[]): NonconformanceOnWall[] {
  return rows.flatMap((row) => {
    const own = row.stringId === null ? [] : row.extent.flatMap((span) => mdOf(inputs, span));
    const coils = new Set(row.coilIds);
    const byCoil = inputs.pipe.segments
      .filter(({ coil }) => coils.has(coil.id))
      .flatMap((one) => coilFootage(one, row).flatMap((span) => mdOf(inputs, span)));
    const md = IntervalSet.from([...own, ...byCoil]).intersect(inputs.asked.md);
    if (md.isEmpty) return [];
    return [
      {
        nonconformance: linkTo('nonconformance', row, `NC-${String(row.number).padStart(4, '0')}`),
        title: row.title,
        severity: row.severity,
        stage: row.stage,
        through: [...(own.length > 0 ? ['its footage'] : []), ...(byCoil.length > 0 ? ['its coil'] : [])].join(' and '),
        md: md.intervals.map(spanOf),
      },
    ];
  });
}

function mdOf({ wall }: WallInputs, footage: Interval): Interval[] {
  return wall.piecesOfFootage(footage).map(({ md }) => md);
}

/** The footage made of the parts of a coil that a nonconformance names. */
function coilFootage({ segment, coil }: PipeSegment, row: Nonconformance): Interval[] {
  return row.coilExtents
    .filter(({ coilId }) => coilId === coil.id)
    .flatMap(({ stripFromMm, stripToMm }) => footageOfStrip(segment, { fromMm: stripFromMm ?? 0, toMm: stripToMm ?? Infinity }) ?? []);
}
