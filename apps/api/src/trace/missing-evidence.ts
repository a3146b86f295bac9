import { IntervalSet, type Interval } from '#libs/intervals';
import type { Inspection } from '../inspections/inspection.entity.js';
import type { Pipe, PipeCut, PipeSegment } from './ground.js';
import type { MissingEvidence } from './trace.dto.js';
import type { WallInputs } from './wall-trace.js';

/** A boundary between coils and a splice belong together when they are this close. Our own choice. */
const SPLICE_REACH_MM = 1000;

/** What is missing about a stretch of footage. */
interface Gap {
  readonly what: string;
  readonly detail: string;
  readonly footage: Interval;
}

/**
 * The evidence that one would look for on the asked footage of a wall and that is not on record: coils, certificates,
 * splices and their confirmation, re-joins, inspections of both kinds, and what the depth itself lacks.
 */
export function missingOn(inputs: WallInputs, inspections: readonly Inspection[]): MissingEvidence[] {
  const { asked, pipe } = inputs;
  const gaps = [
    ...coilGaps(pipe, asked.footage),
    ...certificateGaps(pipe.segments, asked.footage),
    ...spliceGaps(pipe, asked.footage),
    ...rejoinGaps(pipe.cuts, asked.footage),
    ...inspectionGaps(inspections, asked.footage),
  ];
  return [...gaps.flatMap((gap) => located(inputs, gap)), ...depthGaps(inputs)];
}

function located({ wall, asked }: WallInputs, { what, detail, footage }: Gap): MissingEvidence[] {
  return wall
    .piecesOfFootage(footage)
    .flatMap(({ md, footage: part }) =>
      asked.md.intersect(md).intervals.map((inside) => ({ what, detail, md: plain(inside), footage: plain(part) })),
    );
}

const plain = ({ fromMm, toMm }: Interval): { fromMm: number; toMm: number } => ({ fromMm, toMm });

function coilGaps({ segments, cuts }: Pipe, asked: IntervalSet): Gap[] {
  const covered = IntervalSet.from([...segments.map(({ segment }) => segment.span), ...cuts.map(({ cutOut }) => cutOut.span)]);
  return asked.subtract(covered).intervals.map((footage) => ({
    what: 'coil',
    detail: 'No coil segment says what this pipe was made of.',
    footage,
  }));
}

function certificateGaps(segments: readonly PipeSegment[], asked: IntervalSet): Gap[] {
  return segments
    .filter(({ certificate }) => certificate === null)
    .flatMap(({ segment, coil }) =>
      asked.intersect(segment.span).intervals.map((footage) => ({
        what: 'certificate',
        detail: `Coil ${coil.number} has no mill certificate on record.`,
        footage,
      })),
    );
}

function spliceGaps({ segments, splices }: Pipe, asked: IntervalSet): Gap[] {
  const joints = segments.flatMap((after, index) => {
    const before = segments[index - 1];
    if (before === undefined || !asked.contains(after.segment.span.fromMm)) return [];
    return before.segment.span.toMm === after.segment.span.fromMm ? [{ before, after }] : [];
  });
  const unspliced = joints
    .filter(({ after }) => !splices.some(({ span }) => reaches(span, after.segment.span.fromMm)))
    .map(({ before, after }) => ({
      what: 'splice',
      detail: `Coils ${before.coil.number} and ${after.coil.number} meet here, but no splice is on record.`,
      footage: { fromMm: after.segment.span.fromMm, toMm: after.segment.span.fromMm + 1 },
    }));
  const weak = splices
    .filter(({ span }) => asked.overlaps(span))
    .flatMap(({ span, number, confirmed, verdict }) => [
      ...(confirmed ? [] : [{ what: 'splice confirmation', detail: `The place of splice ${number} is not confirmed.`, footage: span }]),
      ...(verdict === 'accepted' ? [] : [{ what: 'splice acceptance', detail: `Splice ${number} is ${VERDICT_WORDS[verdict]}.`, footage: span }]),
    ]);
  return [...unspliced, ...weak];
}

const VERDICT_WORDS = { open: 'not judged yet', 'in-doubt': 'in doubt', rejected: 'rejected' } as const;

const reaches = ({ fromMm, toMm }: Interval, mm: number): boolean =>
  fromMm - SPLICE_REACH_MM <= mm && mm < toMm + SPLICE_REACH_MM;

function rejoinGaps(cuts: readonly PipeCut[], asked: IntervalSet): Gap[] {
  return cuts
    .filter(({ cutOut }) => asked.overlaps({ fromMm: cutOut.span.fromMm - 1, toMm: cutOut.span.toMm + 1 }))
    .flatMap(({ cutOut, rejoin }) => {
      const footage = { fromMm: cutOut.span.toMm, toMm: cutOut.span.toMm + 1 };
      if (rejoin === null) {
        return [{ what: 're-join', detail: 'Pipe was cut out here, but no record of the weld that closed it exists.', footage }];
      }
      if (rejoin.verdict === 'accepted') return [];
      return [{ what: 're-join acceptance', detail: `The re-join is ${rejoin.verdict === 'open' ? 'not judged yet' : 'rejected'}.`, footage }];
    });
}

function inspectionGaps(inspections: readonly Inspection[], asked: IntervalSet): Gap[] {
  return (['visual', 'dimensional'] as const).flatMap((kind) => {
    const covered = IntervalSet.from(inspections.filter((row) => row.kind === kind).map(({ span }) => span));
    return asked.subtract(covered).intervals.map((footage) => ({
      what: `${kind} inspection`,
      detail: `No ${kind} inspection entry covers this stretch.`,
      footage,
    }));
  });
}

function depthGaps({ wall, model, path, asked }: WallInputs): MissingEvidence[] {
  const hull = asked.md.hull();
  const whole = { md: hull === null ? null : plain(hull), footage: null };
  const range = path?.mdRange();
  const surveyed =
    range !== undefined && hull !== null && range.fromMdMm <= hull.fromMm && hull.toMm <= range.toMdMm;
  const pieces = hull === null || asked.footage.isEmpty ? [] : wall.piecesAtDepth(hull).pieces;
  const extrapolated = pieces.some(
    ({ basisFrom, basisTo }) => basisFrom.startsWith('past') || basisTo.startsWith('past'),
  );
  return [
    ...(surveyed
      ? []
      : [{ what: 'survey', detail: path === null ? 'No survey of the well is on record.' : 'The survey does not reach these depths.', ...whole }]),
    ...(extrapolated
      ? [{ what: 'shoe tie', detail: 'The depth rests on the assumed length ratio: no shoe tie lies below it.', ...whole }]
      : []),
    ...(wall.name === 'outer' && model.lengths.kappa === null
      ? [{ what: 'diameter ratio', detail: 'κ is not recorded: the outer wall cannot be estimated.', ...whole }]
      : []),
  ];
}
