import { IntervalSet } from '#libs/intervals';
import { microseconds, type Mark } from '#libs/persistence';
import { countsOn } from '#libs/reinspection';
import type { RecordedLook, RecordedRepair } from '../reinspections/looks.js';
import { openInWords } from '../reinspections/open-words.js';
import { turnedDown } from '../reinspections/reinspection-answer.js';

/** A re-join with what is on record of it. */
export interface RejoinOnRecord {
  readonly joinedAt: string;
  readonly verdict: 'open' | 'accepted' | 'rejected';
  /** The pipe at both sides of the weld that is still in the string. */
  readonly ends: IntervalSet;
  readonly welds: readonly { readonly observedAt: string; readonly marks: readonly Mark[] }[];
  /** Its examinations; inspections are none. */
  readonly examinations: readonly RecordedLook[];
  readonly repairs: readonly RecordedRepair[];
}

/**
 * What is open of a re-join: no weld, no examination since the last weld, one that held or rejected, a verdict that is none or
 * has nothing behind it, a weld outside its procedure. What is open after its repairs is told of these.
 */
export function openOfRejoin({ joinedAt, verdict, ends, welds, examinations, repairs }: RejoinOnRecord): string[] {
  if (ends.isEmpty) return ['both its ends were cut out'];
  const isWelded = welds.length > 0;
  const madeAtUs = isWelded ? Math.max(...welds.map(({ observedAt }) => microseconds(observedAt))) : microseconds(joinedAt);
  const since = examinations.filter(({ atUs }) => atUs > madeAtUs);
  const isSeen = placesOf(since).covers(ends);
  const isProved = placesOf(since.filter(({ outcome }) => outcome === 'accepted').map((look) => ({ on: countsOn(look, repairs) }))).covers(ends);
  return [
    ...(isWelded ? [] : ['no weld of it is on record']),
    ...(isSeen ? [] : [`no examination of both its sides since ${isWelded ? 'its last weld' : 'it was joined'} is on record`]),
    ...turnedDown({ on: ends, atUs: madeAtUs }, repairs, examinations).map(openInWords),
    ...(verdict === 'accepted' ? [] : [`its verdict is ${verdict}`]),
    ...(verdict === 'accepted' && !isProved ? ['its verdict is accepted, and no examination on record since its last weld or repair accepts it on both sides'] : []),
    ...welds.flatMap(({ observedAt, marks }) => marks.filter(({ kind }) => kind === 'out-of-specification').map(({ value, limit }) => `weld of ${observedAt}: ${value}, ${limit}`)),
  ];
}

const placesOf = (looks: readonly Pick<RecordedLook, 'on'>[]): IntervalSet => IntervalSet.from(looks.flatMap(({ on }) => on.intervals));
