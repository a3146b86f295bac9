/** Work that was done on the pipe and is not settled. */
import { IntervalSet } from '#libs/intervals';
import { microseconds } from '#libs/persistence';
import type { RecordedLook } from '../reinspections/looks.js';
import type { SpliceStep } from '../splice-steps/splice-step.entity.js';
import type { Weld } from '../welds/weld.entity.js';

type Looked = Pick<RecordedLook, 'method' | 'outcome' | 'on' | 'atUs'>;

/** Pipe on which an examination was held or rejected, less that which the same method accepted later; nothing when it was accepted. */
export function openOfExamination({ method, outcome, on, atUs }: Looked, all: readonly Looked[]): IntervalSet {
  if (outcome === 'accepted') return IntervalSet.empty;
  const later = all.filter((one) => one.method === method && one.outcome === 'accepted' && one.atUs > atUs);
  return later.reduce((left, one) => left.subtract(one.on), on);
}

type Step = Pick<SpliceStep, 'spliceId' | 'stage' | 'station' | 'outcome' | 'observedAt'>;

/** The steps that were held or rejected, and after which none of their splice, stage and station was made; of one instant none is the later. */
export function openSteps<S extends Step>(steps: readonly S[]): S[] {
  const isOfOne = (one: S, other: S): boolean => one.spliceId === other.spliceId && one.stage === other.stage && one.station === other.station;
  return steps.filter((step) => step.outcome !== 'accepted'
    && !steps.some((other) => isOfOne(step, other) && microseconds(other.observedAt) > microseconds(step.observedAt)));
}

type Welded = Pick<Weld, 'spliceId' | 'rejoinId' | 'observedAt' | 'marks'>;

/** The welds that are marked as outside their procedure, less those that were welded again since; each with its marks in words. */
export function weldsOutside<W extends Welded>(welds: readonly W[]): { readonly weld: W; readonly words: string }[] {
  const isOfOne = (one: W, other: W): boolean => one.spliceId === other.spliceId && one.rejoinId === other.rejoinId;
  return welds.flatMap((weld) => {
    const outside = weld.marks.filter(({ kind }) => kind === 'out-of-specification');
    const isWeldedAgain = welds.some((other) => isOfOne(weld, other) && microseconds(other.observedAt) > microseconds(weld.observedAt));
    if (outside.length === 0 || isWeldedAgain) return [];
    return [{ weld, words: `outside its procedure: ${outside.map(({ value, limit }) => `${value}, ${limit}`).join('; ')}` }];
  });
}
