import type { EvidenceState, Saying } from '#libs/evidence';
import type { Interval } from '#libs/intervals';
import { canonicalText } from '../records/canonical-text.js';
import type { RecordLink } from '../trace/trace.dto.js';

/** A record, and the version of it that counted. */
export interface FrozenRecord {
  readonly kind: string;
  readonly id: string;
  readonly version: number;
}

export interface FrozenTestimony {
  readonly says: Saying;
  readonly because: string;
  readonly records: readonly RecordLink[];
}

export interface FrozenStretch extends Interval {
  readonly state: EvidenceState;
  readonly late: boolean;
  readonly otherwise: EvidenceState | null;
  /** The testimonies that decided, as places in the list of the line. */
  readonly by: readonly number[];
}

/** What one item came to on the released pipe. */
export interface FrozenLine {
  /** Code and plan, or that of holds. */
  readonly key: string;
  readonly code: string;
  readonly stretches: readonly FrozenStretch[];
  readonly testimonies: readonly FrozenTestimony[];
}

/** The evidence that a release is given on. */
export interface FrozenEvidence extends Interval {
  readonly stringId: string;
  readonly plans: readonly FrozenRecord[];
  /** What turned readings into the footage of that pipe: the counter periods that began until it was made. */
  readonly footageRestsOn: readonly FrozenRecord[];
  /** Of all its lines. */
  readonly worst: EvidenceState;
  readonly lines: readonly FrozenLine[];
}

/** Canonical JSON of it and its digest: the same evidence always gives the same text. */
export const frozenText = (evidence: FrozenEvidence): ReturnType<typeof canonicalText> => canonicalText(evidence);

/** The evidence of a stored release. */
export const thawed = (text: string): FrozenEvidence => JSON.parse(text) as FrozenEvidence;
