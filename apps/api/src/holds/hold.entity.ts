import { Check, Column } from 'typeorm';
import type { Interval } from '#libs/intervals';
import { IndexByName, RecordTable, StringRecordVersion } from '#libs/persistence';
import type { GivenInterval, RestsOn } from '../line/given-place.js';

/** Pipe, coils or splices that are not to be released until the hold is lifted. A record, and no interlock. */
@RecordTable('hold', { stringId: 'casing_string' })
@Check('ck_hold_of', 'jsonb_array_length(given) + cardinality(coil_ids) + cardinality(splice_ids) > 0')
@Check('ck_hold_extent', 'isempty(extent) = (jsonb_array_length(given) = 0)')
@IndexByName('ix_hold_extent')
@IndexByName('ix_hold_known_from')
@IndexByName('ix_hold_coil_ids')
@IndexByName('ix_hold_splice_ids')
export class Hold extends StringRecordVersion {
  @Column({ type: 'text' })
  cause!: string;

  @Column({ type: 'jsonb' })
  given!: readonly GivenInterval[];

  /** Footage of what was given, half-open, mm; empty where only coils and splices are held. */
  @Column({ type: 'int8multirange' })
  extent!: readonly Interval[];

  @Column({ type: 'jsonb' })
  restsOn!: readonly RestsOn[];

  @Column({ type: 'uuid', array: true })
  coilIds!: string[];

  @Column({ type: 'uuid', array: true })
  spliceIds!: string[];
}
