import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable } from '#libs/persistence';
import { PlacedVersion } from '../line/placed.entity.js';
import type { WeldChosen, WeldReading } from '../welds/weld.entity.js';
import type { RepairMethod } from './repair.dto.js';

/** Pipe that was changed after it was made. From then on, earlier results say nothing of it. */
@RecordTable('repair', {
  stringId: 'casing_string', spliceId: 'splice', rejoinId: 'rejoin', inspectionId: 'inspection', nonconformanceId: 'nonconformance',
  instrumentId: 'instrument', weldProcedureId: 'weld_procedure',
})
@Check('ck_repair_span', 'not isempty(span) and not lower_inf(span) and not upper_inf(span)')
@Check('ck_repair_method', "method in ('grinding', 'machining', 'weld-repair', 'heat-treatment', 'straightening', 'sleeve')")
@Check('ck_repair_of', 'num_nonnulls(splice_id, rejoin_id) <= 1')
@Check('ck_repair_procedure', "(method = 'weld-repair') = (weld_procedure_id is not null)")
@Check('ck_repair_welded', "method = 'weld-repair' or (readings = '[]'::jsonb and chosen = '[]'::jsonb and filler_batch is null)")
@Check('ck_repair_depth', 'depth_removed_mm >= 0 and remaining_wall_mm >= 0')
@Check('ck_repair_limit', 'wall_limit_mm is null or remaining_wall_mm is not null')
@Check('ck_repair_instrument', 'instrument_id is null or num_nonnulls(depth_removed_mm, remaining_wall_mm) > 0')
@IndexByName('ix_repair_span')
@IndexByName('ix_repair_known_from')
@IndexByName('ix_repair_splice_id')
@IndexByName('ix_repair_rejoin_id')
@IndexByName('ix_repair_instrument_id')
@IndexByName('ix_repair_weld_procedure_id')
@IndexByName('ix_repair_filler_batch')
@IndexByName('ix_repair_readings')
export class Repair extends PlacedVersion {
  @Column({ type: 'text' })
  method!: RepairMethod;

  @Column({ type: 'text' })
  found!: string;

  @Column({ type: 'uuid', nullable: true })
  spliceId!: string | null;

  @Column({ type: 'uuid', nullable: true })
  rejoinId!: string | null;

  @Column({ type: 'uuid', nullable: true })
  inspectionId!: string | null;

  @Column({ type: 'uuid', nullable: true })
  nonconformanceId!: string | null;

  @Column({ type: 'numeric', nullable: true })
  depthRemovedMm!: string | null;

  @Column({ type: 'numeric', nullable: true })
  remainingWallMm!: string | null;

  @Column({ type: 'numeric', nullable: true })
  wallLimitMm!: string | null;

  @Column({ type: 'uuid', nullable: true })
  instrumentId!: string | null;

  @Column({ type: 'uuid', nullable: true })
  weldProcedureId!: string | null;

  @Column({ type: 'jsonb' })
  readings!: readonly WeldReading[];

  @Column({ type: 'jsonb' })
  chosen!: readonly WeldChosen[];

  @Column({ type: 'text', nullable: true })
  fillerBatch!: string | null;

  @Column({ type: 'text', array: true })
  photoSha256s!: string[];

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
