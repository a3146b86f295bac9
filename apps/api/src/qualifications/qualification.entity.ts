import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable, RecordVersion } from '#libs/persistence';
import type { ScopeItem } from '#libs/validity';
import type { LATE_CONFIRMATIONS, SUBJECTS } from './qualification.dto.js';

/** A certificate that a person may weld, test or inspect, with what it is limited to. */
@RecordTable('qualification', { personId: 'person' })
@Check('ck_qualification_subject', "subject in ('welding', 'non-destructive-testing', 'inspection')")
@Check('ck_qualification_late', "late_confirmation in ('revives', 'ends')")
@Check('ck_qualification_methods', 'cardinality(methods) > 0')
@Check('ck_qualification_days', 'expires_on >= starts_on')
@Check('ck_qualification_months', 'confirm_every_months >= 1 and vision_every_months >= 1 and level >= 1')
@IndexByName('uq_qualification_number')
@IndexByName('ix_qualification_person_id')
export class QualificationVersion extends RecordVersion {
  @Column({ type: 'uuid' })
  personId!: string;

  @Column({ type: 'text' })
  number!: string;

  @Column({ type: 'text' })
  standard!: string;

  @Column({ type: 'text' })
  subject!: (typeof SUBJECTS)[number];

  @Column({ type: 'text', array: true })
  methods!: string[];

  @Column({ type: 'int4', nullable: true })
  level!: number | null;

  @Column({ type: 'jsonb' })
  scope!: readonly ScopeItem[];

  @Column({ type: 'date' })
  startsOn!: string;

  @Column({ type: 'date', nullable: true })
  expiresOn!: string | null;

  @Column({ type: 'int4', nullable: true })
  confirmEveryMonths!: number | null;

  @Column({ type: 'text' })
  lateConfirmation!: (typeof LATE_CONFIRMATIONS)[number];

  @Column({ type: 'int4', nullable: true })
  visionEveryMonths!: number | null;

  @Column({ type: 'boolean' })
  authorisationNeeded!: boolean;

  @Column({ type: 'text' })
  examiner!: string;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
