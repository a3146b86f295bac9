import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable, RecordVersion } from '#libs/persistence';
import type { WeldList, WeldRange } from '#libs/welding';
import type { WELD_PURPOSES } from './weld-procedure.dto.js';

/** The record of the tests that qualified a procedure. */
export interface ProcedureTest {
  readonly number: string;
  readonly standard: string;
  readonly testedOn: string;
  readonly examiner: string;
}

/** One numbered revision of a welding procedure. Frozen once a weld was made by it. */
@RecordTable('weld_procedure')
@Check('ck_weld_procedure_revision', 'revision >= 1')
@Check('ck_weld_procedure_purpose', "purpose in ('splice', 're-join', 'seam', 'repair')")
@IndexByName('uq_weld_procedure_revision')
export class WeldProcedureVersion extends RecordVersion {
  @Column({ type: 'text' })
  number!: string;

  @Column({ type: 'int4' })
  revision!: number;

  @Column({ type: 'text' })
  title!: string;

  @Column({ type: 'text' })
  purpose!: (typeof WELD_PURPOSES)[number];

  @Column({ type: 'text' })
  process!: string;

  @Column({ type: 'date' })
  effectiveFrom!: string;

  @Column({ type: 'jsonb' })
  ranges!: readonly WeldRange[];

  @Column({ type: 'jsonb' })
  lists!: readonly WeldList[];

  @Column({ type: 'jsonb', nullable: true })
  test!: ProcedureTest | null;

  @Column({ type: 'text', nullable: true })
  heatTreatment!: string | null;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
