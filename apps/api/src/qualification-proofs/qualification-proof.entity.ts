import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable, RecordVersion } from '#libs/persistence';
import type { PROOFS } from './qualification-proof.dto.js';

/** A confirmation, an authorisation, a vision test or a withdrawal of a qualification. */
@RecordTable('qualification_proof', { personId: 'person', qualificationId: 'qualification' })
@Check('ck_qualification_proof_kind', "proof in ('confirmation', 'authorisation', 'vision-test', 'withdrawal')")
@Check('ck_qualification_proof_of', "proof = 'vision-test' or qualification_id is not null")
@Check('ck_qualification_proof_until', "until_day is null or (proof = 'authorisation' and until_day >= on_day)")
@Check('ck_qualification_proof_why', "(proof = 'withdrawal') = (reason_given is not null)")
@IndexByName('uq_qualification_proof_withdrawal')
@IndexByName('ix_qualification_proof_person_id')
@IndexByName('ix_qualification_proof_qualification_id')
export class QualificationProof extends RecordVersion {
  @Column({ type: 'uuid' })
  personId!: string;

  @Column({ type: 'uuid', nullable: true })
  qualificationId!: string | null;

  @Column({ type: 'text' })
  proof!: (typeof PROOFS)[number];

  @Column({ type: 'date' })
  onDay!: string;

  @Column({ type: 'date', nullable: true })
  untilDay!: string | null;

  @Column({ type: 'text' })
  givenBy!: string;

  @Column({ type: 'text', nullable: true })
  reasonGiven!: string | null;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
