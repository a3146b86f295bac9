import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable } from '#libs/persistence';
import { PlacedVersion } from '../line/placed.entity.js';

/** What an inspector saw or measured on the pipe. */
@RecordTable('inspection', { stringId: 'casing_string', instrumentId: 'instrument' })
@Check('ck_inspection_span', 'not isempty(span) and not lower_inf(span) and not upper_inf(span)')
@Check('ck_inspection_kind', "kind in ('visual', 'dimensional')")
@Check('ck_inspection_value', "(kind = 'dimensional') = (value is not null and unit is not null)")
@Check('ck_inspection_clock', 'clock_hours > 0 and clock_hours <= 12')
@Check('ck_inspection_viewing', '(clock_hours is null) = (viewing is null)')
@Check('ck_inspection_surface', "surface in ('formed-inside', 'formed-outside')")
@Check('ck_inspection_view', "viewing in ('down-the-hole', 'up-the-hole')")
@IndexByName('ix_inspection_span')
@IndexByName('ix_inspection_instrument_id')
@IndexByName('ix_inspection_known_from')
@IndexByName('ix_inspection_observed_at')
@IndexByName('ix_inspection_not_accepted')
export class Inspection extends PlacedVersion {
  @Column({ type: 'text' })
  kind!: 'visual' | 'dimensional';

  @Column({ type: 'text' })
  characteristic!: string;

  @Column({ type: 'numeric', nullable: true })
  value!: string | null;

  @Column({ type: 'text', nullable: true })
  unit!: string | null;

  @Column({ type: 'numeric', nullable: true })
  limitMin!: string | null;

  @Column({ type: 'numeric', nullable: true })
  limitMax!: string | null;

  @Column({ type: 'text', nullable: true })
  requirement!: string | null;

  @Column({ type: 'text', nullable: true })
  surface!: 'formed-inside' | 'formed-outside' | null;

  @Column({ type: 'numeric', nullable: true })
  clockHours!: string | null;

  @Column({ type: 'text', nullable: true })
  viewing!: 'down-the-hole' | 'up-the-hole' | null;

  @Column({ type: 'uuid', nullable: true })
  instrumentId!: string | null;

  @Column({ type: 'text' })
  verdict!: 'accepted' | 'rejected' | 'for-evaluation';

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
