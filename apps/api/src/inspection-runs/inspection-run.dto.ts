import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Id, Ids, Measured, Parts, Text, When } from '../http/fields.js';
import { RecordAnswer, StringRecordInput } from '../records/record.dto.js';

/** More channels than any such line has. */
export const MOST_CHANNELS = 100;

/** How one channel was set in a run. */
export class ChannelSettingPart {
  @Id({ description: 'The channel; one of the run, each once.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b60' })
  channelId!: string;

  @Measured({ description: 'The gain.', example: '42.5', min: -200, max: 200, unit: 'dB', optional: true })
  gainDb?: string | null;

  @Measured({ description: 'The level at which the instrument itself gave an alarm.', example: '60', min: -1e9, max: 1e9, unit: 'in the unit of the channel', optional: true })
  threshold?: string | null;

  @Text({ description: 'The filter.', example: 'High pass 20 Hz', max: 120, optional: true })
  filter?: string | null;

  @Text({ description: 'Anything else that was set.', example: null, max: 500, optional: true })
  note?: string | null;
}

/**
 * Channels that inspected the pipe with one setting, by one operator. `observedAt` is its start, `doneBy` the operator; who
 * changes the operator or a setting begins another run.
 */
export class InspectionRunInput extends StringRecordInput {
  @When({ description: 'Its end; absent while it goes on.', example: '2026-03-02T14:00:00Z', optional: true })
  endedAt?: string | null;

  @Text({ description: 'The counter by whose readings the line computer places its samples; the master counter when absent.', example: 'main', max: 40, optional: true })
  counter?: string | null;

  @Ids({ description: 'Its channels, each once.', example: ['0197a2c4-5b00-7d31-9c11-3a5d0e7f1b60'], min: 1, max: MOST_CHANNELS })
  channelIds!: string[];

  @Parts({
    description: 'How they were set; may be empty.', of: () => ChannelSettingPart, max: MOST_CHANNELS,
    example: [{ channelId: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b60', gainDb: '42.5', threshold: '60', filter: 'High pass 20 Hz' }],
  })
  settings!: ChannelSettingPart[];

  @Id({ description: 'The reference standard that it was set up on.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b42', optional: true })
  standardId?: string | null;

  @Text({ description: 'Why it ended; only of one that did.', example: 'End of shift', max: 500, optional: true })
  endReason?: string | null;

  @Text({ description: 'Anything else worth knowing.', example: null, max: 2000, optional: true })
  note?: string | null;
}

/** The run's own fields of an answer. */
export class InspectionRunContent extends OmitType(InspectionRunInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class InspectionRunAnswer extends IntersectionType(RecordAnswer, InspectionRunContent) {}
