import type { Interval } from '#libs/intervals';
import type { GivenNumber, PipeInputs } from '#libs/ratings';
import type { RecordLink } from '../trace/trace.dto.js';

/** Where a number that a rating rests on comes from. */
export interface Origin {
  /** What it is: `Rt0.5`, `least wall read`. */
  readonly what: string;
  /** Null where no record says it. */
  readonly record: RecordLink | null;
  /** Footage at which it was read; null where it stands for all of its pipe. */
  readonly at: Interval | null;
  /** Standard uncertainty in its own unit, as decimal text or a number; null where it is not known. */
  readonly u: number | null;
}

type Given = GivenNumber | NonNullable<PipeInputs['wallThicknessMm']> | NonNullable<PipeInputs['yieldMpa']>;

/** Numbers with their origins. A rating tells the very number that it was given, so that the origin is found again. */
export class Origins {
  private readonly known = new Map<GivenNumber, Origin>();

  /** Remembers where a number comes from, and gives it back. */
  with<T extends Given>(given: T, origin: Origin): T {
    this.known.set(given, origin);
    return given;
  }

  of(given: GivenNumber): Origin {
    const origin = this.known.get(given);
    if (origin === undefined) throw new Error(`no origin of ${given.value}`);
    return origin;
  }
}

/** The record of a link as the pure libraries name it. */
export const refOf = ({ kind, id, version }: RecordLink): { kind: string; id: string; version: number } => ({ kind, id, version });
