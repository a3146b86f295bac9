import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable, RecordVersion } from '#libs/persistence';
import type { Requirement, ToleranceTable } from '#libs/strip';
import type { DocumentType } from '../certificates/document-type.js';
import type { DECISION_RULES, ROUNDINGS } from './strip-specification.dto.js';

/** One numbered revision of what is asked of strip. Frozen once an order or a decision rests on it. */
@RecordTable('strip_specification')
@Check('ck_strip_specification_revision', 'revision >= 1')
@Check('ck_strip_specification_type', "document_type in ('2.1', '2.2', '3.1', '3.2')")
@Check('ck_strip_specification_rounding', "rounding in ('absolute', 'rounding')")
@Check('ck_strip_specification_decision', "decision in ('simple-acceptance', 'guarded-acceptance', 'proof-of-conformity')")
@Check('ck_strip_specification_guard', 'guard_factor >= 0')
@IndexByName('uq_strip_specification_revision')
export class StripSpecification extends RecordVersion {
  @Column({ type: 'text' })
  number!: string;

  @Column({ type: 'int4' })
  revision!: number;

  @Column({ type: 'text' })
  title!: string;

  @Column({ type: 'date' })
  effectiveFrom!: string;

  @Column({ type: 'text' })
  grade!: string;

  @Column({ type: 'text' })
  documentType!: DocumentType;

  @Column({ type: 'jsonb' })
  requirements!: readonly Requirement[];

  @Column({ type: 'jsonb' })
  ownTables!: readonly ToleranceTable[];

  @Column({ type: 'text' })
  rounding!: (typeof ROUNDINGS)[number];

  @Column({ type: 'text' })
  decision!: (typeof DECISION_RULES)[number];

  @Column({ type: 'numeric' })
  guardFactor!: string;

  @Column({ type: 'text', nullable: true })
  edge!: string | null;

  @Column({ type: 'text', nullable: true })
  surface!: string | null;

  @Column({ type: 'text', nullable: true })
  testFrequency!: string | null;

  @Column({ type: 'text', nullable: true })
  retestRule!: string | null;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
