import { IntersectionType, OmitType } from '@nestjs/swagger';
import { CHECK_REASONS, type CheckReason } from '#libs/reference-checks';
import { THRESHOLD_SENSES, type ThresholdSense } from '../channels/channel.dto.js';
import { Choice, Id, Measured, Parts, Text } from '../http/fields.js';
import { PlacedContent, PlacedInput } from '../line/placed.dto.js';
import { RecordAnswer } from '../records/record.dto.js';

/** With the standard held still, or run through as the pipe is. */
export const CHECK_MODES = ['static', 'dynamic'] as const;
export const CHECK_OUTCOMES = ['passed', 'failed', 'void'] as const;
export type CheckOutcome = (typeof CHECK_OUTCOMES)[number];

/** What one channel showed of one reflector of the standard. */
export class CheckResultPart {
  @Id({ description: 'The channel; one of the run.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b60' })
  channelId!: string;

  @Text({ description: 'The reflector.', example: 'N10 outside', max: 120 })
  reflector!: string;

  @Text({ description: 'Its size, with its unit.', example: '0.50 mm deep, 25 mm long', max: 120, optional: true })
  size?: string | null;

  @Text({ description: 'What the channel showed, digits as read; a sign before them where only a bound is known.', example: '74.5', max: 40 })
  amplitude!: string;

  @Measured({ description: 'What it had to reach.', example: '60', min: -1e9, max: 1e9, unit: 'in the unit of the channel' })
  threshold!: string;

  @Choice({ description: 'above: reached by the threshold or more; below: by the threshold or less.', example: 'above', of: THRESHOLD_SENSES })
  sense!: ThresholdSense;
}

/** What a check came to for one channel. */
export class CheckOutcomePart {
  @Id({ description: 'The channel.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b60' })
  channelId!: string;

  @Choice({ description: 'passed: every reflector reached its threshold; void: the whole check counts for nothing.', example: 'passed', of: CHECK_OUTCOMES })
  outcome!: CheckOutcome;
}

/** Channels run over their reference standard. `from` is the footage under the probes; what was inspected before and after is told by the time. */
export class ReferenceCheckInput extends OmitType(PlacedInput, ['to'] as const) {
  @Id({ description: 'The inspection run; the one that a start check is for, and the last one for an end check.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b61' })
  runId!: string;

  @Id({ description: 'The reference standard.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b42' })
  standardId!: string;

  @Choice({ description: 'static: the standard was held still; dynamic: it was run through.', example: 'dynamic', of: CHECK_MODES })
  mode!: (typeof CHECK_MODES)[number];

  @Choice({ description: 'The occasion on which it was made.', example: 'start', of: CHECK_REASONS })
  occasion!: CheckReason;

  @Parts({
    description: 'Channel by channel and reflector by reflector; may be empty for a void check alone.', of: () => CheckResultPart, max: 1000,
    example: [{ channelId: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b60', reflector: 'N10 outside', size: '0.50 mm deep, 25 mm long', amplitude: '74.5', threshold: '60', sense: 'above' }],
  })
  results!: CheckResultPart[];

  @Text({ description: 'Why it counts for nothing; absent for one that counts.', example: null, max: 2000, optional: true })
  voidReason?: string | null;

  @Text({ description: 'What was done about it.', example: null, max: 2000, optional: true })
  action?: string | null;

  @Text({ description: 'Anything else worth knowing.', example: null, max: 2000, optional: true })
  note?: string | null;
}

/** The check's own fields of an answer. */
export class ReferenceCheckContent extends IntersectionType(
  PlacedContent,
  OmitType(ReferenceCheckInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm', 'stringId', 'from'] as const),
) {
  @Parts({ description: 'What it came to, channel by channel; derived.', of: () => CheckOutcomePart, max: 1000, example: [{ channelId: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b60', outcome: 'passed' }] })
  outcomes!: CheckOutcomePart[];
}

export class ReferenceCheckAnswer extends IntersectionType(RecordAnswer, ReferenceCheckContent) {}
