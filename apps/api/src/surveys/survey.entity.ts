import { Column } from 'typeorm';
import { IndexByName, RecordTable, RecordVersion } from '#libs/persistence';

/** One reading of a directional survey, with its digits. */
export interface StationReading {
  readonly mdM: string;
  readonly inclinationDeg: string;
  readonly azimuthDeg: string;
}

/** Where the first station lies, with its digits. */
export interface TieIn {
  readonly northM: string;
  readonly eastM: string;
  readonly tvdM: string;
}

/** A directional survey of a well: the hole's path, station by station. */
@RecordTable('survey', { wellId: 'well' })
@IndexByName('ix_survey_well_id')
export class Survey extends RecordVersion {
  @Column({ type: 'uuid' })
  wellId!: string;

  @Column({ type: 'jsonb' })
  stations!: readonly StationReading[];

  @Column({ type: 'jsonb' })
  tieIn!: TieIn;

  @Column({ type: 'text' })
  tool!: string;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
