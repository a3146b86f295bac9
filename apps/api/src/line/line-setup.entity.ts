import { Column } from 'typeorm';
import { IndexByName, RecordTable, StringRecordVersion } from '#libs/persistence';

/** A place on the line. Distances in mm downstream of the weld point, negative upstream. */
export interface StationColumn {
  readonly name: string;
  /** `hang-off` for the one where the string hangs, else null. */
  readonly role: 'hang-off' | null;
  /** Behind a strip accumulator the distance is a range; else both ends are the same. */
  readonly pathMinMm: number;
  readonly pathMaxMm: number;
  readonly uMm: string;
}

/** The line's stations, valid from `observedAt` until the next set-up. */
@RecordTable('line_setup', { stringId: 'casing_string' })
@IndexByName('uq_line_setup_from')
@IndexByName('ix_line_setup_string_id')
@IndexByName('ix_line_setup_known_from')
export class LineSetup extends StringRecordVersion {
  @Column({ type: 'jsonb' })
  stations!: readonly StationColumn[];

  @Column({ type: 'text' })
  viewing!: 'down-the-hole' | 'up-the-hole';

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
