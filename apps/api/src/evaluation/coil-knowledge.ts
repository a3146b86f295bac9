import type { Certificate } from '../certificates/certificate.entity.js';
import type { Coil } from '../coils/coil.entity.js';
import type { Document } from '../files/document.entity.js';
import type { Heat } from '../heats/heat.entity.js';
import type { IncomingCheck } from '../incoming-checks/incoming-check.entity.js';
import type { StripOrder } from '../orders/strip-order.entity.js';
import type { CoilReceipt } from '../receipts/coil-receipt.entity.js';
import type { CoilSegmentVersion } from '../segments/coil-segment.entity.js';
import type { StripSpecification } from '../specifications/strip-specification.entity.js';
import type { CertificateTranscription } from '../transcriptions/certificate-transcription.entity.js';
import type { VerificationAnswer } from '../transcriptions/certificate-transcription.dto.js';

/** A certificate that speaks of a coil, under the number by which it names it. */
export interface CoilPaper {
  readonly certificate: Certificate;
  /** `delivered`: the one the coil came with. */
  readonly role: 'delivered' | 'mill' | 'slitter' | 'retest';
  readonly namedAs: string;
  readonly keyings: readonly CertificateTranscription[];
  readonly verification: VerificationAnswer;
}

/** Everything that a coil is evaluated and cross-checked by, from one state of knowledge. */
export interface CoilKnowledge {
  readonly coil: Coil;
  readonly heat: Heat;
  readonly order: StripOrder | null;
  /** The revision that the order names. */
  readonly ordered: StripSpecification | null;
  /** The revision of the same specification that was in force on the day of the order. */
  readonly inForce: StripSpecification | null;
  readonly papers: readonly CoilPaper[];
  readonly receipts: readonly CoilReceipt[];
  readonly checks: readonly IncomingCheck[];
  readonly segments: readonly CoilSegmentVersion[];
  /** Keyings of any certificate that name this heat, or this coil, with their certificates. */
  readonly namingHeat: readonly NamingPaper[];
  readonly namingCoil: readonly NamingPaper[];
  /** Coils on record that came with one of its certificates, itself among them. */
  readonly delivered: readonly Coil[];
  /** Numbers on record that look much like this coil's, or its heat's. */
  readonly likeCoils: readonly string[];
  readonly likeHeats: readonly string[];
  /** Documents elsewhere that are the very same files as those of its certificates. */
  readonly sameFiles: readonly Document[];
}

export interface NamingPaper {
  readonly certificate: Certificate;
  readonly keying: CertificateTranscription;
}
