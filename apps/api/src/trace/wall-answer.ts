import { IntervalSet, type Interval } from '#libs/intervals';
import {
  clockHoursDownHole, facingOf, outerWallThicknessMm, spliceHandOn, type Wall, type WallPiece,
} from '#libs/length';
import type { WellPath } from '#libs/survey';
import { isLate } from '../records/record-answer.js';
import { labelOf } from '../nonconformances/nonconformance-label.js';
import type { SpliceVersion } from '../splices/splice.entity.js';
import type { EvidentInspection, EvidentNonconformance } from './evidence.service.js';
import type { PipeSegment } from './ground.js';
import { linkTo } from './record-link.js';
import { footageOfStrip, stripMapOf } from './strip-footage.js';
import type {
  CutNearby, InspectionOnWall, NonconformanceOnWall, SegmentAnswer, SpliceOnWall, WallThicknessAnswer,
} from './trace.dto.js';
import { plusMinus, type AskedOnWall, type Placed, type PlacedCut, type WallView } from './wall-view.js';

/** Cut-outs are told when they lie this close to what was asked. Our own choice. */
export const NEARBY_MM = 10_000;

const spanOf = ({ fromMm, toMm }: Interval): { fromMm: number; toMm: number } => ({ fromMm, toMm });

/** The stretches of one wall that stand, or may stand, in what was asked; from the top down. */
export function segmentsOn(view: WallView, { md }: AskedOnWall): SegmentAnswer[] {
  return view.segments.filter(({ possible }) => md.overlaps(possible)).map((one) => segmentAnswer(view, md, one));
}

function segmentAnswer(view: WallView, asked: IntervalSet, one: WallView['segments'][number]): SegmentAnswer {
  const { piece, of } = one;
  const { segment, coil, heat, certificate } = of;
  const inside = asked.intersect(piece.md).hull();
  const shown = inside === null ? piece : clipped(view.wall, piece, inside);
  // A cut end is where the question ends, not where the coil does: its depth is as asked.
  const uFromMm = shown.md.fromMm === piece.md.fromMm ? one.uFromMm : shown.uMdFromMm;
  const uToMm = shown.md.toMm === piece.md.toMm ? one.uToMm : shown.uMdToMm;
  return {
    mdFromMm: shown.md.fromMm,
    mdToMm: shown.md.toMm,
    mdFromPlusMinusMm: plusMinus(uFromMm),
    mdToPlusMinusMm: plusMinus(uToMm),
    presence: inside === null ? 'possible' : isCertain(asked, one) ? 'certain' : 'likely',
    possibleMd: one.possible,
    depthBasis: shown.basisFrom === shown.basisTo ? shown.basisFrom : `${shown.basisFrom}, then ${shown.basisTo}`,
    footage: spanOf(shown.footage),
    tvd: tvdEnds(view.path, shown.md),
    coil: linkTo('coil', coil, coil.number),
    heat: linkTo('heat', heat, heat.number),
    certificate: certificate === null ? null : linkTo('certificate', certificate, certificate.number),
    segment: linkTo('coil-segment', segment, coil.number),
    strip: stripOf(of, shown.footage),
    runs: segment.runs,
    facing: FACING[view.wall.name],
    wallThickness: thickness(view, of, shown.ratioFrom),
  };
}

function isCertain(asked: IntervalSet, { piece, uFromMm, uToMm }: Placed): boolean {
  const certain = { fromMm: piece.md.fromMm + plusMinus(uFromMm), toMm: piece.md.toMm - plusMinus(uToMm) };
  return certain.fromMm < certain.toMm && asked.overlaps(certain);
}

/** The part of a piece inside a depth interval, with the uncertainty of the new ends. */
function clipped(wall: Wall, piece: WallPiece, inside: Interval): WallPiece {
  if (inside.fromMm === piece.md.fromMm && inside.toMm === piece.md.toMm) return piece;
  const part = wall
    .piecesAtDepth(inside)
    .pieces.find(({ footage }) => footage.fromMm < piece.footage.toMm && footage.toMm > piece.footage.fromMm);
  if (part === undefined) return { ...piece, md: inside };
  const fromMm = Math.max(part.footage.fromMm, piece.footage.fromMm);
  const toMm = Math.min(part.footage.toMm, piece.footage.toMm);
  return { ...part, md: inside, footage: { fromMm, toMm } };
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

const FACING = {
  outer: { formedInside: facingOf('formed-inside', 'outer'), formedOutside: facingOf('formed-outside', 'outer') },
  inner: { formedInside: facingOf('formed-inside', 'inner'), formedOutside: facingOf('formed-outside', 'inner') },
};

function thickness({ wall, lengths }: WallView, { coil }: PipeSegment, lambda: number): WallThicknessAnswer {
  const stripMm = Number(coil.thicknessMm);
  if (wall.name === 'inner') return { stripMm, estimatedMm: stripMm, basis: 'strip thickness; forming is taken not to change it' };
  const { kappa } = lengths.lengths;
  if (kappa === null) return { stripMm, estimatedMm: null, basis: 'not computable: the diameter ratio κ is not recorded' };
  const estimatedMm = Math.round(outerWallThicknessMm(stripMm, kappa, lambda) * 1000) / 1000;
  return { stripMm, estimatedMm, basis: `t/(κ λ), κ ${kappa}, λ ${lambda.toFixed(4)}; advisory` };
}

/** The splices whose metal stands, or may stand, in what was asked. */
export function splicesOn({ wall, splices }: WallView, { md }: AskedOnWall): SpliceOnWall[] {
  return splices.filter(({ possible }) => md.overlaps(possible)).map((one) => spliceAnswer(wall, one, one.of));
}

function spliceAnswer({ name }: Wall, { piece, uFromMm, uToMm }: Placed, splice: SpliceVersion): SpliceOnWall {
  return {
    mdFromMm: piece.md.fromMm,
    mdToMm: piece.md.toMm,
    mdFromPlusMinusMm: plusMinus(uFromMm),
    mdToPlusMinusMm: plusMinus(uToMm),
    splice: linkTo('splice', splice, splice.number),
    footage: spanOf(splice.span),
    confirmed: splice.confirmed,
    verdict: splice.verdict,
    doubt: splice.doubt,
    handHere: splice.hand === 'square' ? 'square' : spliceHandOn(name, splice.hand),
  };
}

/** Cut-outs whose re-join is within 10 m of what was asked. */
export function cutsOn({ cuts }: WallView, { md }: AskedOnWall): CutNearby[] {
  return cuts.flatMap((placed) => {
    const distanceMm = distance(md, placed.mdMm);
    return distanceMm > NEARBY_MM ? [] : [cutNearby(placed, distanceMm)];
  });
}

function cutNearby({ cut: { cutOut, rejoin }, mdMm, uMm }: PlacedCut, distanceMm: number): CutNearby {
  return {
    cutOut: linkTo('cut-out', cutOut, cutOut.cause),
    rejoinMdMm: mdMm,
    rejoinMdPlusMinusMm: plusMinus(uMm),
    removedMm: cutOut.span.toMm - cutOut.span.fromMm,
    distanceMm,
    rejoin: rejoin === null ? null : linkTo('rejoin', rejoin, rejoin.procedure),
    rejoinVerdict: rejoin?.verdict ?? null,
  };
}

function distance(asked: IntervalSet, mdMm: number): number {
  const distances = asked.intervals.map(({ fromMm, toMm }) => Math.max(fromMm - mdMm, mdMm - toMm + 1, 0));
  return Math.min(...distances, Infinity);
}

/** Inspection entries on metal that stands, or may stand, in what was asked; from the top down. */
export function inspectionsOn(view: WallView, { md }: AskedOnWall, rows: readonly EvidentInspection[]): InspectionOnWall[] {
  const { footageRange } = view.wall;
  return rows
    .filter(({ span }) => span.fromMm < footageRange.toMm && span.toMm > footageRange.fromMm)
    .flatMap((row) => view.placed(row).filter(({ possible }) => md.overlaps(possible)).map((one) => inspectionAnswer(view.wall, row, one)))
    .sort((a, b) => a.mdFromMm - b.mdFromMm);
}

function inspectionAnswer({ name }: Wall, row: EvidentInspection, { piece, uFromMm, uToMm }: Placed): InspectionOnWall {
  const { surface, clockHours, viewing } = row;
  return {
    mdFromMm: piece.md.fromMm,
    mdToMm: piece.md.toMm,
    mdFromPlusMinusMm: plusMinus(uFromMm),
    mdToPlusMinusMm: plusMinus(uToMm),
    inspection: { kind: 'inspection', id: row.id, version: row.version, label: `${row.kind}: ${row.characteristic}` },
    footage: spanOf(row.span),
    observedAt: row.observedAt,
    doneBy: row.doneBy,
    late: isLate(row),
    characteristic: row.characteristic,
    measured: row.value === null ? null : `${row.value} ${row.unit ?? ''}`.trim(),
    verdict: row.verdict,
    outOfSpecification: row.marks.some(({ kind }) => kind === 'out-of-specification'),
    facing: surface === null ? null : facingOf(surface, name),
    clockHoursDownHole: clockHours === null || viewing === null ? null : clockHoursDownHole(Number(clockHours), viewing),
  };
}

/** Nonconformances whose footage or coil stands in what was asked. */
export function nonconformancesOn(view: WallView, asked: AskedOnWall, rows: readonly EvidentNonconformance[]): NonconformanceOnWall[] {
  return rows.flatMap((row) => {
    const own = row.stringId === null ? [] : row.extent.flatMap((span) => mdOf(view, span));
    const coils = new Set(row.coilIds);
    const byCoil = view.segments
      .filter(({ of: { coil } }) => coils.has(coil.id))
      .flatMap(({ of }) => coilFootage(of, row).flatMap((span) => mdOf(view, span)));
    const md = IntervalSet.from([...own, ...byCoil]).intersect(asked.md);
    if (md.isEmpty) return [];
    return [
      {
        nonconformance: { kind: 'nonconformance', id: row.id, version: row.version, label: labelOf(row.number) },
        title: row.title,
        severity: row.severity,
        stage: row.stage,
        through: [...(own.length > 0 ? ['its footage'] : []), ...(byCoil.length > 0 ? ['its coil'] : [])].join(' and '),
        md: md.intervals.map(spanOf),
      },
    ];
  });
}

function mdOf({ wall }: WallView, footage: Interval): Interval[] {
  return wall.piecesOfFootage(footage).map(({ md }) => md);
}

/** The footage made of the parts of a coil that a nonconformance names. */
function coilFootage({ segment, coil }: PipeSegment, row: EvidentNonconformance): Interval[] {
  return row.coilExtents
    .filter(({ coilId }) => coilId === coil.id)
    .flatMap(({ stripFromMm, stripToMm }) => {
      const footage = footageOfStrip(segment, { fromMm: stripFromMm ?? 0, toMm: stripToMm ?? Infinity });
      return footage === null ? [] : [footage];
    });
}
