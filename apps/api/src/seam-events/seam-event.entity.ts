import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable } from '#libs/persistence';
import { PlacedVersion } from '../line/placed.entity.js';
import type { WeldReading } from '../welds/weld.entity.js';

/** A start, stop, restart or change of set-up of the seam weld. */
@RecordTable('seam_event', { stringId: 'casing_string', weldProcedureId: 'weld_procedure' })
@Check('ck_seam_event_span', 'not isempty(span) and not lower_inf(span) and not upper_inf(span)')
@Check('ck_seam_event_event', "event in ('start', 'stop', 'restart', 'set-up-change')")
@Check('ck_seam_event_cause', "event <> 'stop' or cause is not null")
@IndexByName('ix_seam_event_span')
@IndexByName('ix_seam_event_procedure_id')
@IndexByName('ix_seam_event_readings')
@IndexByName('ix_seam_event_known_from')
export class SeamEvent extends PlacedVersion {
  @Column({ type: 'text' })
  event!: 'start' | 'stop' | 'restart' | 'set-up-change';

  @Column({ type: 'uuid' })
  weldProcedureId!: string;

  @Column({ type: 'jsonb' })
  readings!: readonly WeldReading[];

  @Column({ type: 'text', nullable: true })
  cause!: string | null;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
