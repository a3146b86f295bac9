/**
 * What the papers of a coil print. Everything is decided and worded by the caller; drawing adds layout only.
 * Instants are UTC, ISO 8601, ending in Z. Values are text with the digits they were printed or read with.
 */
import type { PrintDetails } from './shared-sections.js';

/** Where a value stands against its limit, and where a coil stands against its specification: at the worst of its lines. */
export const COIL_VERDICTS = ['conforms', 'inside-guard-band', 'not-comparable', 'not-reported', 'does-not-conform'] as const;
export type CoilVerdict = (typeof COIL_VERDICTS)[number];

/** What has been decided about a coil, as its tag says it. */
export const COIL_TAG_STATES = ['HOLD', 'ACCEPTED', 'ACCEPTED UNDER CONCESSION', 'REJECTED', 'RETURN', 'NOT DECIDED'] as const;
export type CoilTagState = (typeof COIL_TAG_STATES)[number];

export interface CoilLength {
  /** For example "stated by the mill" or "from mass". */
  readonly basis: string;
  /** For example "354.2 m ± 3.5 m". */
  readonly lengthText: string;
}

export interface CoilIdentity {
  readonly number: string;
  readonly heat: string;
  readonly grade: string;
  readonly mill: string | null;
  readonly order: string | null;
  /** With its revision, for example "Strip specification 12, revision 3". */
  readonly specification: string | null;
  /** Each with its type and how its keying was verified. */
  readonly certificates: readonly string[];
  readonly widthMm: string | null;
  readonly thicknessMm: string | null;
  readonly massKg: string | null;
  readonly lengths: readonly CoilLength[];
  readonly receivedAt: string | null;
  readonly place: string | null;
  readonly condition: string | null;
  /** Counts from 1. */
  readonly version: number;
  /** For example "accepted". */
  readonly state: string;
}

/** One value held against one limit. */
export interface CoilLine {
  readonly characteristic: string;
  /** For example "≤ 0.12 %", "480 to 620 MPa" or "report only". */
  readonly limits: string;
  /** For example "0.085 %". */
  readonly printed: string;
  readonly verdict: CoilVerdict;
  /** Distance to the nearest limit, in its unit. */
  readonly margin: string | null;
  /** The rule it was judged by. */
  readonly rule: string;
  /** For example "incoming check, head, centre, MI-07". */
  readonly source: string;
  /** Why the verdict is what it is, where that does not show. */
  readonly reason: string | null;
}

/** What came of holding the papers and readings of a coil against each other. */
export interface CoilCrossCheck {
  readonly severity: 'warning' | 'note';
  readonly what: string;
  readonly detail: string;
}

export interface CoilDecision {
  /** For example "acceptance". */
  readonly kind: string;
  /** What the signature means, for example "I accept this coil for use in string S-1". */
  readonly meaning: string;
  readonly statement: string;
  readonly signedBy: string;
  readonly roles: readonly string[];
  readonly signedAt: string;
  /** For example "secret entered again". */
  readonly method: string;
  /** SHA-256 of the evaluation that was signed, 64 hexadecimal digits. */
  readonly evaluationSha256: string;
  /** False once a later decision took its place or it was withdrawn. */
  readonly isStanding: boolean;
  /** The decision stands, and what is known of the coil is no longer what was signed. */
  readonly isKnownOtherwise: boolean;
  readonly reason: string | null;
}

/** A deviation permit or concession that covers the coil. */
export interface CoilPermit {
  readonly label: string;
  readonly reason: string;
  readonly approvedBy: string;
  readonly approvedAt: string;
  /** In quantity, scope or use. */
  readonly limit: string;
  /** For which string it holds, and until when. */
  readonly scope: string;
}

/** Everything a coil sheet prints. */
export interface CoilSheetData extends PrintDetails {
  readonly identity: CoilIdentity;
  readonly verdict: CoilVerdict;
  /** The worst of the lines, in words. */
  readonly verdictText: string;
  /** In the order of the specification. */
  readonly lines: readonly CoilLine[];
  readonly checks: readonly CoilCrossCheck[];
  /** Newest last. */
  readonly decisions: readonly CoilDecision[];
  readonly permits: readonly CoilPermit[];
  /** How the specification has values rounded before they are judged. */
  readonly roundingText: string | null;
  /** How it has uncertainty taken into account. */
  readonly decisionText: string | null;
  /** Address of the coil, printed and as a QR code: http or https, at most `LINK_CHARACTERS_MAX` characters of ASCII. */
  readonly link: string;
}

/** Everything a coil tag prints. */
export interface CoilTagData {
  readonly number: string;
  readonly heat: string;
  readonly grade: string;
  /** For example "383.0 × 5.00 mm". */
  readonly size: string;
  /** For example "9,850 kg". */
  readonly mass: string;
  /** For example "654 m ± 7 m". */
  readonly length: string | null;
  readonly order: string | null;
  readonly specification: string | null;
  readonly state: CoilTagState;
  readonly stateSince: string | null;
  /** What is known of the coil is no longer what was signed with the state. */
  readonly isKnownOtherwise: boolean;
  /** As on the coil sheet. */
  readonly link: string;
  readonly printedAt: string;
  /** Counts from 1. */
  readonly version: number;
}
