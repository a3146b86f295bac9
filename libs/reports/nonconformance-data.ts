import type { IntervalMm } from './instants-and-lengths.js';

/** How an extent was established. */
export type ExtentBasis = 'measured' | 'bracketed' | 'assumed';

/** Which record this is and how far it has come. */
export interface NonconformanceIdentity {
  /** For example "NC-0007". */
  readonly number: string;
  readonly title: string;
  readonly classification: 'critical' | 'major' | 'minor';
  readonly source: string;
  readonly state: string;
  /** Counts from 1. */
  readonly version: number;
  readonly well: string;
  /** All strings concerned, or words for none. */
  readonly string: string;
  readonly observedAt: string;
  readonly recordedAt: string;
  readonly recordedBy: string;
  /** Recorded more than an hour after it happened. */
  readonly isLate: boolean;
}

export interface RequirementNotMet {
  readonly document: string;
  readonly revision: string;
  readonly clause: string;
  readonly limit: string;
}

/** What was found: a value with its digits as they were read, words, or both. */
export interface FoundValue {
  readonly valueText: string | null;
  /** Expanded, k = 2. */
  readonly uncertaintyText: string | null;
  readonly unit: string;
  readonly words: string | null;
  readonly method: string;
  readonly instrument: string;
  readonly foundBy: string;
  readonly foundAt: string;
}

/** The string that an extent is on, and the scales against which it is drawn. */
export interface StringGeometry {
  readonly name: string;
  readonly lengthMm: number;
  /** For example "rotary table". */
  readonly depthDatum: string;
  readonly hangOffDepthMm: number | null;
  readonly shoeDepthMm: number | null;
}

/** A stretch of one coil's strip, measured from the coil's head. */
export interface StripExtent {
  readonly coil: string;
  readonly coilLengthMm: number;
  readonly interval: IntervalMm;
}

/** A stretch of one wall now, by measured depth, with the expanded uncertainty (k = 2) of its less certain end. */
export interface WallExtent {
  readonly depth: IntervalMm;
  readonly uncertaintyMm: number | null;
}

/** One affected stretch of pipe, strip or both. */
export interface NonconformanceExtent {
  readonly basis: ExtentBasis;
  /** Null for strip that stands in no string. */
  readonly string: StringGeometry | null;
  readonly strips: readonly StripExtent[];
  readonly footage: IntervalMm | null;
  readonly footageUncertaintyMm: number | null;
  readonly lastKnownGoodFootageMm: number | null;
  readonly firstKnownGoodFootageMm: number | null;
  readonly locationWhenFound: string;
  readonly locationNow: string;
  /** From the top down; several where pipe was cut out between them, none when no part of the extent is on that wall. */
  readonly outerWall: readonly WallExtent[];
  readonly innerWall: readonly WallExtent[];
  /** Why no depth can be told, when none can; both walls are then empty. */
  readonly depthsUnknown: string | null;
  /** For example "past the last tie: depth rests on an assumed length ratio"; repeated on every page. */
  readonly marks: readonly string[];
}

export interface ContainmentAction {
  readonly text: string;
  /** Where the line stood when the action was taken. */
  readonly footageMm: number | null;
  readonly takenBy: string;
  readonly takenAt: string;
}

export interface DispositionDecision {
  readonly kind: string;
  readonly text: string;
  readonly approvals: readonly { readonly approvedBy: string; readonly role: string; readonly approvedAt: string }[];
}

export interface Amendment {
  readonly version: number;
  readonly amendedAt: string;
  readonly amendedBy: string;
  readonly reason: string;
  /** Null where the field had, or has, no value. */
  readonly changes: readonly { readonly field: string; readonly before: string | null; readonly after: string | null }[];
}

/** Everything a nonconformance report prints. Instants are UTC, ISO 8601, ending in Z; lengths are whole millimetres. */
export interface NonconformanceReportData {
  readonly identity: NonconformanceIdentity;
  readonly requirement: RequirementNotMet | null;
  readonly found: FoundValue | null;
  readonly extents: readonly NonconformanceExtent[];
  readonly containment: readonly ContainmentAction[];
  readonly disposition: DispositionDecision | null;
  readonly note: string | null;
  readonly amendments: readonly Amendment[];
  /** Nothing recorded after this instant is in the report. */
  readonly dataCutOff: string;
  readonly generatedAt: string;
  readonly cautions: readonly string[];
  /** SHA-256 of the record's content, 64 hexadecimal digits, computed by the caller. */
  readonly fingerprintSha256: string;
}
