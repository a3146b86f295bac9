import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable } from '#libs/persistence';
import type { CheckReason } from '#libs/reference-checks';
import type { ThresholdSense } from '../channels/channel.dto.js';
import { PlacedVersion } from '../line/placed.entity.js';

/** What one channel showed of one reflector. `amplitude` as read, perhaps a bound; `threshold` decimal text. */
export interface CheckResult {
  readonly channelId: string;
  readonly reflector: string;
  readonly size: string | null;
  readonly amplitude: string;
  readonly threshold: string;
  readonly sense: ThresholdSense;
}

/** Channels run over their reference standard. Its footage is for the reader; what it proves follows from its time. */
@RecordTable('reference_check', { stringId: 'casing_string', runId: 'inspection_run', standardId: 'instrument' })
@Check('ck_reference_check_span', 'not isempty(span) and not lower_inf(span) and not upper_inf(span)')
@Check('ck_reference_check_mode', "mode in ('static', 'dynamic')")
@Check('ck_reference_check_occasion', "occasion in ('start', 'interval', 'operator-change', 'set-up-change', 'end', 'other')")
@Check('ck_reference_check_results', "jsonb_typeof(results) = 'array' and (results <> '[]'::jsonb or void_reason is not null)")
@IndexByName('ix_reference_check_span')
@IndexByName('ix_reference_check_run_id')
@IndexByName('ix_reference_check_standard_id')
@IndexByName('ix_reference_check_results')
@IndexByName('ix_reference_check_known_from')
export class ReferenceCheck extends PlacedVersion {
  @Column({ type: 'uuid' })
  runId!: string;

  @Column({ type: 'uuid' })
  standardId!: string;

  @Column({ type: 'text' })
  mode!: 'static' | 'dynamic';

  @Column({ type: 'text' })
  occasion!: CheckReason;

  @Column({ type: 'jsonb' })
  results!: readonly CheckResult[];

  /** Why it counts for nothing; null for one that counts. */
  @Column({ type: 'text', nullable: true })
  voidReason!: string | null;

  @Column({ type: 'text', nullable: true })
  action!: string | null;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
