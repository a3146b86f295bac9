import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable, RecordVersion } from '#libs/persistence';
import type { StripUnit } from '#libs/strip';
import type { ACROSS, ALONG } from './incoming-check.dto.js';

export interface CheckReading {
  readonly printed: string;
  readonly along: (typeof ALONG)[number];
  readonly across: (typeof ACROSS)[number] | null;
  readonly fromEdgeMm: string | null;
}

/** Readings of one characteristic of a coil, taken when it came in. */
@RecordTable('incoming_check', { coilId: 'coil', instrumentId: 'instrument' })
@Check('ck_incoming_check_uncertainty', 'expanded_u >= 0')
@IndexByName('ix_incoming_check_coil_id')
@IndexByName('ix_incoming_check_instrument_id')
export class IncomingCheck extends RecordVersion {
  @Column({ type: 'uuid' })
  coilId!: string;

  @Column({ type: 'text' })
  characteristic!: string;

  @Column({ type: 'text' })
  unit!: StripUnit;

  @Column({ type: 'jsonb' })
  readings!: readonly CheckReading[];

  @Column({ type: 'text' })
  instrument!: string;

  @Column({ type: 'uuid', nullable: true })
  instrumentId!: string | null;

  @Column({ type: 'numeric', nullable: true })
  expandedU!: string | null;

  @Column({ type: 'numeric', nullable: true })
  baseMm!: string | null;

  @Column({ type: 'text', nullable: true })
  method!: string | null;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
