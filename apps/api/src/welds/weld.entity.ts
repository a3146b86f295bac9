import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable, StringRecordVersion } from '#libs/persistence';
import type { UnitName } from '#libs/units';
import type { WeldChoice } from '#libs/welding';

export interface WeldReading {
  readonly variable: string;
  readonly printed: string;
  readonly unit: UnitName;
  readonly instrumentId: string | null;
}

export interface WeldChosen {
  readonly choice: WeldChoice;
  readonly value: string;
}

/** What was set and measured when a splice or a re-join was welded, and by which procedure. */
@RecordTable('weld', { stringId: 'casing_string', spliceId: 'splice', rejoinId: 'rejoin', weldProcedureId: 'weld_procedure' })
@Check('ck_weld_of', 'num_nonnulls(splice_id, rejoin_id) = 1')
@IndexByName('ix_weld_string_id')
@IndexByName('ix_weld_splice_id')
@IndexByName('ix_weld_rejoin_id')
@IndexByName('ix_weld_procedure_id')
@IndexByName('ix_weld_filler_batch')
@IndexByName('ix_weld_readings')
@IndexByName('ix_weld_known_from')
export class Weld extends StringRecordVersion {
  @Column({ type: 'uuid', nullable: true })
  spliceId!: string | null;

  @Column({ type: 'uuid', nullable: true })
  rejoinId!: string | null;

  @Column({ type: 'uuid' })
  weldProcedureId!: string;

  @Column({ type: 'jsonb' })
  readings!: readonly WeldReading[];

  @Column({ type: 'jsonb' })
  chosen!: readonly WeldChosen[];

  @Column({ type: 'text', nullable: true })
  fillerBatch!: string | null;

  @Column({ type: 'text', nullable: true })
  gasBatch!: string | null;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
