import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable, StringRecordVersion } from '#libs/persistence';

/** The weld that joined the pipe again where a piece was cut out. */
@RecordTable('rejoin', { stringId: 'casing_string', cutOutId: 'cut_out' })
@Check('ck_rejoin_verdict', "verdict in ('accepted', 'rejected', 'open')")
@IndexByName('uq_rejoin_cut_out_id')
@IndexByName('ix_rejoin_string_id')
@IndexByName('ix_rejoin_known_from')
export class Rejoin extends StringRecordVersion {
  @Column({ type: 'uuid' })
  cutOutId!: string;

  @Column({ type: 'text' })
  procedure!: string;

  @Column({ type: 'text' })
  verdict!: 'open' | 'accepted' | 'rejected';

  @Column({ type: 'text', nullable: true })
  examination!: string | null;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
