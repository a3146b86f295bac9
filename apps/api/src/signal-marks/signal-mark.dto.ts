import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Choice, Id, Ids, Text } from '../http/fields.js';
import { MOST_CHANNELS } from '../inspection-runs/inspection-run.dto.js';
import { PlacedContent, PlacedInput } from '../line/placed.dto.js';
import { RecordAnswer } from '../records/record.dto.js';

export const MARK_EFFECTS = ['not-valid', 'excluded'] as const;
export type MarkEffect = (typeof MARK_EFFECTS)[number];

export const MARK_CAUSES = [
  'probe-lifted', 'splice', 'coupling-lost', 'off-weld-line', 'reference-standard', 'line-stop', 'review', 'other',
] as const;
export type MarkCause = (typeof MARK_CAUSES)[number];

/** Pipe for which the samples of a run are no inspection, or make no indication. The samples stay as they were sent. */
export class SignalMarkInput extends PlacedInput {
  @Id({ description: 'The inspection run.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b61' })
  runId!: string;

  @Ids({ description: 'The channels of it, each once.', example: ['0197a2c4-5b00-7d31-9c11-3a5d0e7f1b60'], min: 1, max: MOST_CHANNELS })
  channelIds!: string[];

  @Choice({ description: 'not-valid: counts as not inspected; excluded: inspected, but its samples make no indication.', example: 'not-valid', of: MARK_EFFECTS })
  effect!: MarkEffect;

  @Choice({ description: 'Why.', example: 'probe-lifted', of: MARK_CAUSES })
  cause!: MarkCause;

  @Text({ description: 'Anything else worth knowing; needed where the cause is another one.', example: 'Lifted for the splice to pass', max: 2000, optional: true })
  note?: string | null;
}

/** The mark's own fields of an answer. */
export class SignalMarkContent extends IntersectionType(
  PlacedContent,
  OmitType(SignalMarkInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm', 'stringId', 'from', 'to'] as const),
) {}

export class SignalMarkAnswer extends IntersectionType(RecordAnswer, SignalMarkContent) {}
