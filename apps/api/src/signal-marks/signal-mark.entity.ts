import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable } from '#libs/persistence';
import { PlacedVersion } from '../line/placed.entity.js';
import type { MarkCause, MarkEffect } from './signal-mark.dto.js';

/** Pipe for which the samples of a run are no inspection, or make no indication. */
@RecordTable('signal_mark', { stringId: 'casing_string', runId: 'inspection_run' })
@Check('ck_signal_mark_span', 'not isempty(span) and not lower_inf(span) and not upper_inf(span)')
@Check('ck_signal_mark_effect', "effect in ('not-valid', 'excluded')")
@Check('ck_signal_mark_cause', "cause in ('probe-lifted', 'splice', 'coupling-lost', 'off-weld-line', 'reference-standard', 'line-stop', 'review', 'other')")
@Check('ck_signal_mark_channels', 'cardinality(channel_ids) >= 1')
@IndexByName('ix_signal_mark_span')
@IndexByName('ix_signal_mark_run_id')
@IndexByName('ix_signal_mark_known_from')
export class SignalMark extends PlacedVersion {
  @Column({ type: 'uuid' })
  runId!: string;

  @Column({ type: 'uuid', array: true })
  channelIds!: string[];

  /** `not-valid` counts as not inspected; `excluded` is inspected, but its samples make no indication. */
  @Column({ type: 'text' })
  effect!: MarkEffect;

  @Column({ type: 'text' })
  cause!: MarkCause;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
