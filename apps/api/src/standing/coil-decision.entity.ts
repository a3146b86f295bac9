import { Check, Column, Unique } from 'typeorm';
import { RecordTable, RecordVersion } from '#libs/persistence';
import type { Verdict } from '#libs/conformity';
import type { DecisionKind } from './decision-kind.js';

/** What an engineer decided on a coil and signed, with the evaluation as it stood then. The last one stands. */
@RecordTable('coil_decision', { coilId: 'coil', specificationId: 'strip_specification' })
@Unique('uq_coil_decision_sequence', ['coilId', 'sequence'])
@Check('ck_coil_decision_once', "version = 1 and state = 'active' and known_until is null")
@Check('ck_coil_decision_sequence', 'sequence >= 1')
@Check('ck_coil_decision_kind', "decision in ('hold', 'accept', 'accept-under-concession', 'reject', 'return')")
@Check('ck_coil_decision_limit', "(decision = 'accept-under-concession') = (concession_limit is not null)")
@Check('ck_coil_decision_worst', "decision <> 'accept' or verdict = 'conforms'")
@Check('ck_coil_decision_signer', 'done_by = keyed_by')
@Check('ck_coil_decision_verdict', "(evaluation::jsonb ->> 'verdict') = verdict")
@Check('ck_coil_decision_digest', "evaluation_sha256 = encode(sha256(convert_to(evaluation, 'UTF8')), 'hex')")
export class CoilDecision extends RecordVersion {
  @Column({ type: 'uuid' })
  coilId!: string;

  /** Counts the decisions on this coil. */
  @Column({ type: 'int4' })
  sequence!: number;

  @Column({ type: 'text' })
  decision!: DecisionKind;

  @Column({ type: 'uuid' })
  specificationId!: string;

  /** Of the evaluation that was signed. */
  @Column({ type: 'text' })
  verdict!: Verdict;

  /** The sentence signed. */
  @Column({ type: 'text' })
  statement!: string;

  /** Why, in the engineer's words. */
  @Column({ type: 'text' })
  grounds!: string;

  @Column({ type: 'text', nullable: true })
  concessionLimit!: string | null;

  /** The evaluation signed: canonical JSON (RFC 8785). */
  @Column({ type: 'text' })
  evaluation!: string;

  @Column({ type: 'text' })
  evaluationSha256!: string;

  @Column({ type: 'text' })
  signerName!: string;

  @Column({ type: 'text', array: true })
  signerRoles!: readonly string[];

  /** How the signer was proved. */
  @Column({ type: 'text' })
  signedBy!: string;
}
