import { interval, type Interval } from '#libs/intervals';
import { microseconds } from '#libs/persistence';
import type { CoilSegmentVersion } from '../segments/coil-segment.entity.js';

type Runs = CoilSegmentVersion['runs'];

/** Pipe that was made of a coil without a break: segments that meet both on the pipe and on the strip are one. */
export interface CoilPipeStretch {
  /** Of its coil and where it begins: numbers of coils can be written like the name of another's stretch. */
  readonly key: string;
  /** The number of its coil; with its footage where the coil made several. */
  readonly name: string;
  readonly coilId: string;
  readonly pipe: Interval;
  readonly strip: Interval;
  readonly runs: Runs;
  /** When the first of its entries says that it was made. */
  readonly madeAt: string;
}

/** The stretches of some segments of one string, which come by footage; `numbers` are those of the coils, by id. */
export function coilPipes(segments: readonly CoilSegmentVersion[], numbers: ReadonlyMap<string, string>): CoilPipeStretch[] {
  const stretches: CoilPipeStretch[] = [];
  for (const { coilId, span, stripSpan, runs, observedAt } of segments) {
    const next = { key: `${coilId} ${span.fromMm}`, name: '', coilId, pipe: span, strip: stripSpan, runs, madeAt: observedAt };
    const last = stretches.at(-1);
    if (last !== undefined && goesOn(last, next)) stretches[stretches.length - 1] = joined(last, next);
    else stretches.push(next);
  }
  const isAlone = ({ coilId }: CoilPipeStretch): boolean => stretches.filter((one) => one.coilId === coilId).length === 1;
  return stretches.map((stretch) => {
    const number = numbers.get(stretch.coilId) ?? stretch.coilId;
    return { ...stretch, name: isAlone(stretch) ? number : `${number} from ${stretch.pipe.fromMm} mm` };
  });
}

/** The stretch with this end of the coil, and which of its ends that is; null where the coil made no pipe. */
export function stretchAtCoilEnd(
  stretches: readonly CoilPipeStretch[], coilId: string, end: 'head' | 'tail',
): { stretch: CoilPipeStretch; end: 'from' | 'to' } | null {
  const own = stretches.filter((one) => one.coilId === coilId);
  const ahead = (one: CoilPipeStretch, other: CoilPipeStretch): boolean =>
    (end === 'head' ? one.strip.fromMm < other.strip.fromMm : one.strip.toMm > other.strip.toMm);
  const [first, ...others] = own;
  if (first === undefined) return null;
  const stretch = others.reduce((best, one) => (ahead(one, best) ? one : best), first);
  return { stretch, end: (end === 'head') === (stretch.runs === 'head-first') ? 'from' : 'to' };
}

function goesOn(last: CoilPipeStretch, next: CoilPipeStretch): boolean {
  const meetsOnStrip = last.runs === 'head-first' ? last.strip.toMm === next.strip.fromMm : last.strip.fromMm === next.strip.toMm;
  return last.coilId === next.coilId && last.runs === next.runs && last.pipe.toMm === next.pipe.fromMm && meetsOnStrip;
}

const joined = (last: CoilPipeStretch, next: CoilPipeStretch): CoilPipeStretch => ({
  ...last,
  pipe: interval(last.pipe.fromMm, next.pipe.toMm),
  strip: interval(Math.min(last.strip.fromMm, next.strip.fromMm), Math.max(last.strip.toMm, next.strip.toMm)),
  madeAt: microseconds(next.madeAt) < microseconds(last.madeAt) ? next.madeAt : last.madeAt,
});
