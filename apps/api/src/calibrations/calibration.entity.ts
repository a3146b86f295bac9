import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable, RecordVersion } from '#libs/persistence';
import type { PointReading } from '#libs/validity';
import type { CALIBRATION_RULES } from './calibration.dto.js';

/** A calibration of an instrument: how it was found, and how it was left. */
@RecordTable('calibration', { instrumentId: 'instrument', referenceInstrumentId: 'instrument' })
@Check('ck_calibration_decision', "decision in ('simple-acceptance', 'guarded-acceptance', 'proof-of-conformity')")
@Check('ck_calibration_guard', 'guard_factor >= 0')
@Check('ck_calibration_taken', 'as_found is not null or as_left is not null')
@Check('ck_calibration_reference', 'reference_instrument_id <> instrument_id')
@IndexByName('uq_calibration_at')
@IndexByName('ix_calibration_instrument_id')
@IndexByName('ix_calibration_reference_instrument_id')
export class CalibrationVersion extends RecordVersion {
  @Column({ type: 'uuid' })
  instrumentId!: string;

  @Column({ type: 'uuid', nullable: true })
  referenceInstrumentId!: string | null;

  @Column({ type: 'text' })
  certificateNumber!: string;

  @Column({ type: 'text' })
  laboratory!: string;

  @Column({ type: 'jsonb', nullable: true })
  asFound!: readonly PointReading[] | null;

  @Column({ type: 'jsonb', nullable: true })
  asLeft!: readonly PointReading[] | null;

  @Column({ type: 'text' })
  decision!: (typeof CALIBRATION_RULES)[number];

  @Column({ type: 'numeric' })
  guardFactor!: string;

  @Column({ type: 'date', nullable: true })
  dueOn!: string | null;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
