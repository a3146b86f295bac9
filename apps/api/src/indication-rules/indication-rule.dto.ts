import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Choice, Choices, Id, Measured, Parts, Text, Whole } from '../http/fields.js';
import { RecordAnswer, StringRecordInput } from '../records/record.dto.js';
import { MARK_CAUSES, type MarkCause } from '../signal-marks/signal-mark.dto.js';

export const REPEATS = ['all', 'latest'] as const;
export const SENSES = ['above', 'below'] as const;

const LONGEST_MM = 100_000;
const ANY = { min: -1e9, max: 1e9, unit: 'in the unit of the channel' };

/** When samples of one channel make an indication. */
export class IndicationRuleChannelPart {
  @Id({ description: 'The channel; each once.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b60' })
  channelId!: string;

  @Choice({ description: '`above` for amplitudes, `below` for what must not become too little, such as a wall thickness.', example: 'above', of: SENSES })
  sense!: (typeof SENSES)[number];

  @Measured({ description: 'A sample at this level or beyond it makes an indication.', example: '50', ...ANY })
  threshold!: string;

  @Measured({ description: 'An indication reaches to both sides as far as samples are at this level or beyond it; never beyond the threshold.', example: '30', ...ANY })
  release!: string;

  @Whole({
    description: 'A sample speaks for at most so much pipe; by how the channel is sampled when absent, and needed where that does not tell.',
    example: null, min: 1, max: LONGEST_MM, unit: 'mm', optional: true,
  })
  speaksForMm?: number | null;
}

/** What makes an indication of the samples of a string. Frozen once a detection used it; then make the next revision. */
export class IndicationRuleInput extends StringRecordInput {
  @Text({ description: 'Its name.', example: 'Seam, daily production', max: 80 })
  name!: string;

  @Text({ description: 'The revision; each of a name once on the string.', example: '1', max: 20 })
  revision!: string;

  @Parts({ description: 'Channel by channel.', of: () => IndicationRuleChannelPart, min: 1, max: 50 })
  channels!: IndicationRuleChannelPart[];

  @Whole({ description: 'What is shorter is no indication, unless it may go on where nothing was read; 0 keeps all.', example: 0, min: 0, max: LONGEST_MM, unit: 'mm' })
  minimumLengthMm!: number;

  @Whole({ description: 'Neighbours of a channel nearer to each other than this are one indication; 0 leaves them apart.', example: 10, min: 0, max: LONGEST_MM, unit: 'mm' })
  combiningMm!: number;

  @Whole({ description: 'An indication goes on over a gap of at most this length when the signal behind it is at the release level still; 0: every gap ends it.', example: 0, min: 0, max: LONGEST_MM, unit: 'mm' })
  bridgedGapMm!: number;

  @Whole({
    description: 'Indications of several channels that share pipe, or are nearer to each other than this, are one; absent: each channel has its own.',
    example: null, min: 0, max: LONGEST_MM, unit: 'mm', optional: true,
  })
  jointMm?: number | null;

  @Choices({
    description: 'Causes of signal marks whose pipe is left out: its samples form no indication. Marks as not valid for other causes make their samples missing.',
    example: ['reference-standard', 'probe-lifted'], of: MARK_CAUSES, max: MARK_CAUSES.length,
  })
  excludes!: MarkCause[];

  @Whole({ description: 'Pipe of splices on record, and so much to both sides of each, is left out; absent: it is not.', example: 50, min: 0, max: LONGEST_MM, unit: 'mm', optional: true })
  spliceMarginMm?: number | null;

  @Choice({ description: 'Of pipe that was read again: all readings count, or the latest that is not missing.', example: 'all', of: REPEATS })
  repeats!: (typeof REPEATS)[number];

  @Text({ description: 'Document, revision and clause that it comes from.', example: 'UT-04 rev 2, 6.1', max: 200, optional: true })
  requirement?: string | null;

  @Text({ description: 'Anything else worth knowing.', example: null, max: 2000, optional: true })
  note?: string | null;
}

/** The rule's own fields of an answer. */
export class IndicationRuleContent extends OmitType(IndicationRuleInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class IndicationRuleAnswer extends IntersectionType(RecordAnswer, IndicationRuleContent) {}
