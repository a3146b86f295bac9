import { type QualificationAnswer, qualificationAt } from './qualification.js';
import type { Qualification, QualifiedEvent } from './qualification-record.js';
import { gravity } from './qualification-state.js';

/** Which of a person's qualifications covers an event, or comes nearest. */
export type BestQualification =
  | { readonly found: 'covering' | 'nearest'; readonly id: string; readonly answer: QualificationAnswer; readonly because: string }
  | { readonly found: 'none'; readonly because: string };

/** Sorts after every day: valid without an end. Among those not valid it makes no difference, none of them has a day. */
const NO_END = 'open';

interface Candidate {
  readonly qualification: Qualification;
  readonly answer: QualificationAnswer;
}

/**
 * The qualification of a person that covers the event: any valid one suffices, and of several the one that stays valid
 * longest is named. Without a valid one the nearest, with all its reasons: the one whose gravest reason is least grave, then
 * with the fewest reasons, then the one begun last (our own choice). That there is none at all is an answer of its own.
 * The order of the list plays no part. Throws as `qualificationAt` does, and RangeError when two have one id.
 */
export function bestQualification(qualifications: readonly Qualification[], event: QualifiedEvent): BestQualification {
  const ids = new Set(qualifications.map(({ id }) => id));
  if (ids.size < qualifications.length) throw new RangeError('two qualifications have the same id');
  const candidates = qualifications.map((qualification): Candidate => ({ qualification, answer: qualificationAt(qualification, event) }));
  const [best] = candidates.sort(byNearness);
  if (best === undefined) return { found: 'none', because: 'the person has no qualification on record' };
  const { qualification: { id }, answer } = best;
  if (answer.state === 'valid') return { found: 'covering', id, answer, because: `qualification ${id} is ${answer.because}` };
  const which = qualifications.length === 1 ? 'the only qualification' : `none of ${qualifications.length} qualifications covers the event; the nearest`;
  return { found: 'nearest', id, answer, because: `${which} is ${id}, ${answer.because}` };
}

function byNearness(one: Candidate, other: Candidate): number {
  return gravity(one.answer.state) - gravity(other.answer.state)
    || one.answer.reasons.length - other.answer.reasons.length
    || latestFirst(one.answer.validUntil ?? NO_END, other.answer.validUntil ?? NO_END)
    || latestFirst(one.qualification.startsOn, other.qualification.startsOn)
    || (one.qualification.id < other.qualification.id ? -1 : 1);
}

/** Days sort as texts. */
function latestFirst(one: string, other: string): number {
  if (one === other) return 0;
  return one > other ? -1 : 1;
}
