import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable, RecordVersion } from '#libs/persistence';
import type { GaugeReading } from '#libs/spc';

/** Readings of the same parts, by several people and again and again, to tell how much of their spread is the gauge's. */
@RecordTable('gauge_study', { instrumentId: 'instrument' })
@Check('ck_gauge_study_tolerance', 'tolerance > 0')
@IndexByName('ix_gauge_study_instrument_id')
export class GaugeStudyVersion extends RecordVersion {
  @Column({ type: 'uuid' })
  instrumentId!: string;

  @Column({ type: 'text' })
  characteristic!: string;

  @Column({ type: 'text' })
  unit!: string;

  @Column({ type: 'numeric', nullable: true })
  tolerance!: string | null;

  @Column({ type: 'jsonb' })
  readings!: readonly GaugeReading[];

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
