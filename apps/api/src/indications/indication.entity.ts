import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable } from '#libs/persistence';
import { PlacedVersion } from '../line/placed.entity.js';
import type { EXAMINATION_METHODS } from '../splice-steps/splice-step.dto.js';
import type { INDICATED_SURFACES } from './indication.dto.js';

/** A place on the pipe where something showed: opened by a detection, or seen by a person. */
@RecordTable('indication', { stringId: 'casing_string', detectionId: 'detection' })
@Check('ck_indication_span', 'not isempty(span) and not lower_inf(span) and not upper_inf(span)')
@Check('ck_indication_method', "method in ('VT', 'RT', 'UT', 'MT', 'PT', 'ET')")
@Check('ck_indication_manual', 'num_nonnulls(detection_id, method) > 0')
@Check('ck_indication_detected', 'detection_id is null or cardinality(channel_ids) > 0')
@Check('ck_indication_peak', 'num_nonnulls(peak, peak_unit, peak_is_bound) in (0, 3)')
@Check('ck_indication_clock', 'clock_deg between 0 and 360')
@Check('ck_indication_surface', "surface in ('formed-inside', 'formed-outside', 'mid-wall')")
@IndexByName('ix_indication_span')
@IndexByName('ix_indication_known_from')
@IndexByName('ix_indication_detection_id')
export class Indication extends PlacedVersion {
  @Column({ type: 'uuid', nullable: true })
  detectionId!: string | null;

  @Column({ type: 'uuid', array: true })
  channelIds!: string[];

  @Column({ type: 'text', nullable: true })
  method!: (typeof EXAMINATION_METHODS)[number] | null;

  @Column({ type: 'numeric', nullable: true })
  peak!: string | null;

  @Column({ type: 'text', nullable: true })
  peakUnit!: string | null;

  @Column({ type: 'boolean', nullable: true })
  peakIsBound!: boolean | null;

  @Column({ type: 'numeric', nullable: true })
  clockDeg!: string | null;

  @Column({ type: 'text', nullable: true })
  surface!: (typeof INDICATED_SURFACES)[number] | null;

  @Column({ type: 'text', nullable: true })
  imperfection!: string | null;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
