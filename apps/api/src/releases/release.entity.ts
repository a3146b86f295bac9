import { Check, Column } from 'typeorm';
import type { EvidenceState } from '#libs/evidence';
import { IndexByName, RecordTable, StringRecordVersion } from '#libs/persistence';

/** An item that pipe was released without, and why. */
export interface ReleaseException {
  readonly code: string;
  readonly state: EvidenceState;
  readonly lengthMm: number;
  readonly because: string;
}

/** Pipe that somebody released and signed for, with the evidence as it stood then. Never amended; withdrawn at most. */
@RecordTable('release', { stringId: 'casing_string' })
@Check('ck_release_once', "(version = 1 and state = 'active') or (version = 2 and state = 'void')")
@Check('ck_release_interval', 'from_mm >= 0 and to_mm > from_mm')
@Check('ck_release_signer', 'version > 1 or done_by = keyed_by')
@Check('ck_release_worst', "worst <> 'failed' and (evidence::jsonb ->> 'worst') = worst")
@Check('ck_release_digest', "evidence_sha256 = encode(sha256(convert_to(evidence, 'UTF8')), 'hex')")
@Check('ck_release_own_work', 'own_work = (own_work_because is not null)')
@Check('ck_release_exceptions', "jsonb_typeof(exceptions) = 'array'")
@IndexByName('ix_release_known_from')
export class Release extends StringRecordVersion {
  /** Footage, half-open. */
  @Column({ type: 'int4' })
  fromMm!: number;

  @Column({ type: 'int4' })
  toMm!: number;

  /** The worst of its evidence that was not conceded. */
  @Column({ type: 'text' })
  worst!: EvidenceState;

  @Column({ type: 'jsonb' })
  exceptions!: readonly ReleaseException[];

  /** The signer did some of the work that the release rests on. */
  @Column({ type: 'boolean' })
  ownWork!: boolean;

  @Column({ type: 'text', nullable: true })
  ownWorkBecause!: string | null;

  /** Footage at the hang-off then; null where nobody knew. */
  @Column({ type: 'int4', nullable: true })
  hangOffMm!: number | null;

  /** Why, in the words of who signed. */
  @Column({ type: 'text' })
  grounds!: string;

  /** The sentence signed. */
  @Column({ type: 'text' })
  statement!: string;

  /** The evidence signed: canonical JSON (RFC 8785). */
  @Column({ type: 'text' })
  evidence!: string;

  @Column({ type: 'text' })
  evidenceSha256!: string;

  @Column({ type: 'text' })
  signerName!: string;

  @Column({ type: 'text', array: true })
  signerRoles!: readonly string[];

  /** How the signer was proved. */
  @Column({ type: 'text' })
  signedBy!: string;
}
