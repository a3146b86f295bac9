import { IntervalSet, type Interval } from '#libs/intervals';
import type { Pipe, PipeCut, PipeSegment } from './ground.js';

/** A boundary between coils and a splice belong together when they are this close. Our own choice. */
const SPLICE_REACH_MM = 1000;

/** Evidence that one would look for about a stretch of footage and that is not on record. */
export interface Gap {
  readonly what: string;
  readonly detail: string;
  readonly footage: Interval;
}

/** What is missing about the pipe itself, whatever is asked: coils, certificates, splices and re-joins. */
export function gapsOf(pipe: Pipe): Gap[] {
  return [...coilGaps(pipe), ...certificateGaps(pipe.segments), ...spliceGaps(pipe), ...rejoinGaps(pipe.cuts)];
}

/** What is missing on the asked footage because no inspection entry of a kind covers it. */
export function inspectionGaps(
  inspections: readonly { readonly kind: string; readonly span: Interval }[],
  asked: IntervalSet,
): Gap[] {
  return (['visual', 'dimensional'] as const).flatMap((kind) => {
    const covered = IntervalSet.from(inspections.filter((row) => row.kind === kind).map(({ span }) => span));
    return asked.subtract(covered).intervals.map((footage) => ({
      what: `${kind} inspection`,
      detail: `No ${kind} inspection entry covers this stretch.`,
      footage,
    }));
  });
}

/** All the footage there can be: what no coil segment covers is missing, as far as anybody asks. */
const ALL_FOOTAGE: Interval = { fromMm: 0, toMm: Number.MAX_SAFE_INTEGER };

function coilGaps({ segments, cuts }: Pipe): Gap[] {
  const known = [...segments.map(({ segment }) => segment.span), ...cuts.map(({ cutOut }) => cutOut.span)];
  return IntervalSet.from(known).complementWithin(ALL_FOOTAGE).intervals.map((footage) => ({
    what: 'coil',
    detail: 'No coil segment says what this pipe was made of.',
    footage,
  }));
}

function certificateGaps(segments: readonly PipeSegment[]): Gap[] {
  return segments
    .filter(({ certificate }) => certificate === null)
    .map(({ segment, coil }) => ({
      what: 'certificate',
      detail: `Coil ${coil.number} has no mill certificate on record.`,
      footage: segment.span,
    }));
}

function spliceGaps({ segments, splices }: Pipe): Gap[] {
  const unspliced = segments.flatMap((after, index) => {
    const before = segments[index - 1];
    const atMm = after.segment.span.fromMm;
    if (before?.segment.span.toMm !== atMm || splices.some(({ span }) => reaches(span, atMm))) return [];
    const detail = `Coils ${before.coil.number} and ${after.coil.number} meet here, but no splice is on record.`;
    return [{ what: 'splice', detail, footage: { fromMm: atMm, toMm: atMm + 1 } }];
  });
  const weak = splices.flatMap(({ span, number, confirmed, verdict }) => [
    ...(confirmed ? [] : [{ what: 'splice confirmation', detail: `The place of splice ${number} is not confirmed.`, footage: span }]),
    ...(verdict === 'accepted' ? [] : [{ what: 'splice acceptance', detail: `Splice ${number} is ${VERDICT_WORDS[verdict]}.`, footage: span }]),
  ]);
  return [...unspliced, ...weak];
}

const VERDICT_WORDS = { open: 'not judged yet', 'in-doubt': 'in doubt', rejected: 'rejected' } as const;

const reaches = ({ fromMm, toMm }: Interval, mm: number): boolean =>
  fromMm - SPLICE_REACH_MM <= mm && mm < toMm + SPLICE_REACH_MM;

/** Told at the pipe on either side of the weld, which is what still stands. */
function rejoinGaps(cuts: readonly PipeCut[]): Gap[] {
  return cuts.flatMap(({ cutOut: { span }, rejoin }) => {
    const sides = [
      { fromMm: Math.max(0, span.fromMm - 1), toMm: span.fromMm },
      { fromMm: span.toMm, toMm: span.toMm + 1 },
    ].filter(({ fromMm, toMm }) => fromMm < toMm);
    if (rejoin === null) {
      const detail = 'Pipe was cut out here, but no record of the weld that closed it exists.';
      return sides.map((footage) => ({ what: 're-join', detail, footage }));
    }
    if (rejoin.verdict === 'accepted') return [];
    const detail = `The re-join is ${rejoin.verdict === 'open' ? 'not judged yet' : 'rejected'}.`;
    return sides.map((footage) => ({ what: 're-join acceptance', detail, footage }));
  });
}
