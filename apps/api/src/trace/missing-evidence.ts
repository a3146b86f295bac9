import type { Interval } from '#libs/intervals';
import { inspectionGaps, type Gap } from './gaps.js';
import type { MissingEvidence } from './trace.dto.js';
import type { AskedOnWall, WallView } from './wall-view.js';

/** The evidence that one would look for on what a wall was asked, and that is not on record; and what its depths lack. */
export function missingOn(
  view: WallView,
  asked: AskedOnWall,
  inspections: Parameters<typeof inspectionGaps>[0],
): MissingEvidence[] {
  const ofPipe = view.gaps.filter(({ footage }) => asked.footage.overlaps(footage));
  const gaps = [...ofPipe, ...inspectionGaps(inspections, asked.footage)];
  return [...gaps.flatMap((gap) => located(view, asked, gap)), ...depthGaps(view, asked)];
}

function located({ wall }: WallView, asked: AskedOnWall, { what, detail, footage }: Gap): MissingEvidence[] {
  return asked.footage.intersect(footage).intervals.flatMap((part) =>
    wall
      .piecesOfFootage(part)
      .flatMap((piece) =>
        asked.md.intersect(piece.md).intervals.map((md) => ({ what, detail, md: plain(md), footage: plain(piece.footage) })),
      ),
  );
}

const plain = ({ fromMm, toMm }: Interval): { fromMm: number; toMm: number } => ({ fromMm, toMm });

function depthGaps({ wall, lengths, path }: WallView, { md, footage }: AskedOnWall): MissingEvidence[] {
  const hull = md.hull();
  if (hull === null) return [];
  const whole = { md: plain(hull), footage: null };
  const range = path?.mdRange();
  const surveyed = range !== undefined && range.fromMdMm <= hull.fromMm && hull.toMm <= range.toMdMm;
  const pieces = footage.isEmpty ? [] : wall.piecesAtDepth(hull).pieces;
  const extrapolated = pieces.some(({ basisFrom, basisTo }) => basisFrom.startsWith('past') || basisTo.startsWith('past'));
  const unsurveyed = path === null ? 'No survey of the well is on record.' : 'The survey does not reach these depths.';
  return [
    ...(surveyed ? [] : [{ what: 'survey', detail: unsurveyed, ...whole }]),
    ...(extrapolated
      ? [{ what: 'shoe tie', detail: 'The depth rests on the assumed length ratio: no shoe tie lies below it.', ...whole }]
      : []),
    ...(wall.name === 'outer' && lengths.lengths.kappa === null
      ? [{ what: 'diameter ratio', detail: 'κ is not recorded: the outer wall cannot be estimated.', ...whole }]
      : []),
  ];
}
