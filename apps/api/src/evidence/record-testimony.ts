import type { Interval, IntervalSet } from '#libs/intervals';
import type { Saying, Testimony } from '#libs/evidence';
import type { RecordLink } from '../trace/trace.dto.js';

/** A testimony whose records are named as answers name them. */
export interface RecordTestimony extends Testimony<RecordLink> {
  /** When the last of its records was entered; null where none was. */
  readonly enteredAt: string | null;
  /** Since when it says so: an amendment may have made a record speak against pipe long after it was entered. Null where none was. */
  readonly saidAt: string | null;
}

/** A waiver's word, and whether it is a concession: agreed under a nonconformance, of pipe that does not conform. */
export interface WaiverTestimony extends RecordTestimony {
  readonly isConcession: boolean;
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
  /** When the version that says so became known, of a record whose word an amendment changes; absent: it said so from its entry on. */
  readonly knownFrom?: string;
}

/** The word on each interval of some pipe. */
export function testimonies(pipe: IntervalSet | Interval, { says, because, records, enteredAt, knownFrom }: Word, onTimeFrom: OnTimeFrom): RecordTestimony[] {
  const intervals = 'intervals' in pipe ? pipe.intervals : [pipe];
  const last = latestOf(enteredAt);
  const saidAt = latestOf(knownFrom === undefined ? enteredAt : [...enteredAt, knownFrom]);
  const onTimeFromMm = last === null ? 0 : onTimeFrom(last);
  return intervals.map(({ fromMm, toMm }) => ({ fromMm, toMm, says, because, records, onTimeFromMm, enteredAt: last, saidAt }));
}

/** Whether two testimonies say the same, word for word. */
export function isSameTestimony(one: RecordTestimony, other: RecordTestimony): boolean {
  return one === other || (
    one.fromMm === other.fromMm && one.toMm === other.toMm && one.says === other.says && one.because === other.because && one.onTimeFromMm === other.onTimeFromMm
    && one.enteredAt === other.enteredAt && one.saidAt === other.saidAt && one.records.length === other.records.length
    && one.records.every((record, index) => isSameLink(record, other.records[index]))
  );
}

const isSameLink = (one: RecordLink, other: RecordLink | undefined): boolean =>
  one.id === other?.id && one.version === other.version && one.kind === other.kind && one.label === other.label;

const latestOf = (instants: readonly string[]): string | null =>
  instants.reduce<string | null>((latest, instant) => (latest === null || instant > latest ? instant : latest), null);
