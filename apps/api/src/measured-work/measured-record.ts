import type { UncertainSegment } from '#libs/length';
import type { IncomingCheck } from '../incoming-checks/incoming-check.entity.js';
import type { GivenInterval } from '../line/given-place.js';
import type { RecordLink } from '../trace/trace.dto.js';
import type { Weld } from '../welds/weld.entity.js';

/** What a record of work was done on: a place of the pipe, a weld of it, strip that is no pipe yet, or a string at no place that is known. */
export type WorkPlace =
  | { readonly on: 'pipe'; readonly stringId: string; readonly span: UncertainSegment; readonly given: GivenInterval }
  | { readonly on: 'splice'; readonly stringId: string; readonly spliceId: string }
  | { readonly on: 'rejoin'; readonly stringId: string; readonly rejoinId: string }
  | { readonly on: 'coil'; readonly coilId: string }
  | { readonly on: 'string'; readonly stringId: string };

/** Decimal text with its unit. */
export interface Margin {
  readonly value: string;
  readonly unit: string;
}

/** A reading as it was taken, and how far it lies from its nearer limit, negative beyond it; null where there is none to compare with. */
export interface MarginedReading {
  readonly said: string;
  readonly margin: Margin | null;
}

/** A record with readings of instruments, whatever its kind. */
export interface MeasuredRecord {
  readonly record: RecordLink;
  /** When they were taken: an instant with six decimals, as all of records. */
  readonly at: string;
  readonly instrumentIds: readonly string[];
  /** False where it names its instrument by the number only, which anybody may have written. */
  readonly isNamedById: boolean;
  readonly place: WorkPlace;
  readonly source: MeasuredSource;
}

/** Where the readings of a record stand, and what their limits are. */
export type MeasuredSource =
  /** Limits that the record brings itself, or none. */
  | { readonly limits: 'own'; readingsWith(instrumentId: string): readonly MarginedReading[] }
  /** Those of a weld procedure; further readings bring their own. */
  | {
    readonly limits: 'procedure'; readonly weldProcedureId: string; readonly weld: Pick<Weld, 'readings' | 'chosen'>;
    readingsBeside(instrumentId: string): readonly MarginedReading[];
  }
  /** Those of the order of the coil. */
  | { readonly limits: 'order'; readonly check: IncomingCheck };
