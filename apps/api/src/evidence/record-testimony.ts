import type { Interval, IntervalSet } from '#libs/intervals';
import type { Saying, Testimony } from '#libs/evidence';
import type { RecordLink } from '../trace/trace.dto.js';

/** A testimony whose records are named as answers name them. */
export interface RecordTestimony extends Testimony<RecordLink> {
  /** When the last of its records was entered; null where none was. */
  readonly enteredAt: string | null;
}

/** From which footage on pipe had not passed the hang-off at an instant, whole mm. */
export type OnTimeFrom = (instant: string) => number;

/** What a word on pipe consists of, whatever pipe it is on. */
export interface Word {
  readonly says: Saying;
  readonly because: string;
  readonly records: readonly RecordLink[];
  /** When each record was first entered, in the one spelling that is stored: the last of them completes the word. None: nothing was entered, and nothing is late. */
  readonly enteredAt: readonly string[];
}

/** The word on each interval of some pipe. */
export function testimonies(pipe: IntervalSet | Interval, { says, because, records, enteredAt }: Word, onTimeFrom: OnTimeFrom): RecordTestimony[] {
  const intervals = 'intervals' in pipe ? pipe.intervals : [pipe];
  const last = enteredAt.reduce<string | null>((latest, instant) => (latest === null || instant > latest ? instant : latest), null);
  const onTimeFromMm = last === null ? 0 : onTimeFrom(last);
  return intervals.map(({ fromMm, toMm }) => ({ fromMm, toMm, says, because, records, onTimeFromMm, enteredAt: last }));
}
