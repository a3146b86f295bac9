import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable, StringRecordVersion } from '#libs/persistence';
import type { EXAMINATION_METHODS } from '../splice-steps/splice-step.dto.js';
import type { TimeLeft } from '../time-left/time-left.js';
import type { EVALUATION_VERDICTS, NOT_RELEVANT_CAUSES, PERSON_LEVELS } from './indication-evaluation.dto.js';

/** What a person made of an indication, and how long it had to the hang-off then. */
@RecordTable('indication_evaluation', {
  stringId: 'casing_string', indicationId: 'indication', instrumentId: 'instrument', repairId: 'repair', cutOutId: 'cut_out', examinationId: 'examination',
})
@Check('ck_indication_evaluation_relevant', 'relevant = (cause is null)')
@Check('ck_indication_evaluation_cause', "cause in ('splice', 'stop', 'noise', 'geometry', 'other') and (cause <> 'other' or cause_words is not null)")
@Check('ck_indication_evaluation_cause_words', 'cause_words is null or cause is not null')
@Check('ck_indication_evaluation_method', "method in ('VT', 'RT', 'UT', 'MT', 'PT', 'ET')")
@Check('ck_indication_evaluation_technique', 'technique is null or method is not null')
@Check('ck_indication_evaluation_instrument', 'instrument_id is null or num_nonnulls(measured_depth_mm, measured_length_mm, remaining_wall_mm) > 0')
@Check('ck_indication_evaluation_measured', 'least(measured_depth_mm, measured_length_mm, remaining_wall_mm) >= 0')
@Check('ck_indication_evaluation_limit', '(limit_text is null) = (num_nonnulls(limit_min_wall_mm, limit_max_depth_mm) = 0)')
@Check('ck_indication_evaluation_verdict', "verdict in ('accept', 'repair', 'cut-out', 'mark', 'hold', 're-inspect')")
@Check('ck_indication_evaluation_acts', "relevant or verdict not in ('repair', 'cut-out')")
@Check(
  'ck_indication_evaluation_accepted',
  "verdict <> 'accept' or (coalesce(remaining_wall_mm >= limit_min_wall_mm, true) and coalesce(measured_depth_mm <= limit_max_depth_mm, true))",
)
@Check('ck_indication_evaluation_level', "level in ('1', '2', '3')")
@Check('ck_indication_evaluation_time_left', "jsonb_typeof(time_left) = 'object'")
@IndexByName('ix_indication_evaluation_known_from')
@IndexByName('ix_indication_evaluation_indication_id')
@IndexByName('ix_indication_evaluation_instrument_id')
@IndexByName('ix_indication_evaluation_repair_id')
@IndexByName('ix_indication_evaluation_cut_out_id')
@IndexByName('ix_indication_evaluation_examination_id')
export class IndicationEvaluation extends StringRecordVersion {
  @Column({ type: 'uuid' })
  indicationId!: string;

  @Column({ type: 'boolean' })
  relevant!: boolean;

  @Column({ type: 'text', nullable: true })
  cause!: (typeof NOT_RELEVANT_CAUSES)[number] | null;

  @Column({ type: 'text', nullable: true })
  causeWords!: string | null;

  @Column({ type: 'text', nullable: true })
  method!: (typeof EXAMINATION_METHODS)[number] | null;

  @Column({ type: 'text', nullable: true })
  technique!: string | null;

  @Column({ type: 'uuid', nullable: true })
  instrumentId!: string | null;

  @Column({ type: 'numeric', nullable: true })
  measuredDepthMm!: string | null;

  @Column({ type: 'numeric', nullable: true })
  measuredLengthMm!: string | null;

  @Column({ type: 'numeric', nullable: true })
  remainingWallMm!: string | null;

  @Column({ type: 'text', nullable: true })
  limitText!: string | null;

  @Column({ type: 'numeric', nullable: true })
  limitMinWallMm!: string | null;

  @Column({ type: 'numeric', nullable: true })
  limitMaxDepthMm!: string | null;

  @Column({ type: 'text' })
  verdict!: (typeof EVALUATION_VERDICTS)[number];

  @Column({ type: 'text' })
  level!: (typeof PERSON_LEVELS)[number];

  @Column({ type: 'uuid', nullable: true })
  repairId!: string | null;

  @Column({ type: 'uuid', nullable: true })
  cutOutId!: string | null;

  @Column({ type: 'uuid', nullable: true })
  examinationId!: string | null;

  /** Taken when it was entered, for the moment of decision as it was given then. */
  @Column({ type: 'jsonb' })
  timeLeft!: TimeLeft;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
