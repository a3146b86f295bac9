import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable, RecordVersion } from '#libs/persistence';
import type { INSTRUMENT_KINDS } from './instrument.dto.js';

/** Something that readings are taken with, or held against. */
@RecordTable('instrument')
@Check('ck_instrument_kind', "kind in ('gauge', 'reference-standard', 'line-instrument')")
@Check('ck_instrument_range', 'range_min < range_max')
@Check('ck_instrument_resolution', 'resolution > 0')
@IndexByName('uq_instrument_number')
export class Instrument extends RecordVersion {
  @Column({ type: 'text' })
  number!: string;

  @Column({ type: 'text' })
  kind!: (typeof INSTRUMENT_KINDS)[number];

  @Column({ type: 'text' })
  name!: string;

  @Column({ type: 'text', array: true })
  measures!: string[];

  @Column({ type: 'text' })
  unit!: string;

  @Column({ type: 'numeric', nullable: true })
  rangeMin!: string | null;

  @Column({ type: 'numeric', nullable: true })
  rangeMax!: string | null;

  @Column({ type: 'numeric', nullable: true })
  resolution!: string | null;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
