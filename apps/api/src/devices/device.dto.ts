import { ApiProperty, IntersectionType, OmitType } from '@nestjs/swagger';
import { Computed, Id, Text, Texts, When, YesNo } from '../http/fields.js';
import { RecordAnswer, StringRecordInput } from '../records/record.dto.js';

export class DeviceInput extends StringRecordInput {
  @Text({ description: 'The name of the device.', example: 'Line computer at the guide frame', max: 120 })
  name!: string;

  @Texts({ description: 'The counters whose readings it appends, at least one.', example: ['exit wheel'], max: 20, each: 80 })
  counters!: string[];

  @When({ description: 'After this, none of its tokens is taken.', example: '2026-06-30T22:00:00Z' })
  expiresAt!: string;

  @YesNo({ description: 'Whether its tokens are taken.', example: true })
  active!: boolean;
}

/** The device's own fields of an answer. */
export class DeviceContent extends OmitType(DeviceInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class DeviceAnswer extends IntersectionType(RecordAnswer, DeviceContent) {}

export class DeviceTokenAnswer {
  @ApiProperty({
    description: 'Shown this once. The device sends it as Authorization: Bearer …',
    example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b04.pX0oTq1mS3vV5dZ7bN9kH2gF4jL6wR8yC0aE1uI3sQ5',
  })
  token!: string;

  @Id({ description: 'The device.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b05' })
  deviceId!: string;

  @When({ description: 'When it was made.', example: '2026-03-02T08:15:00.000000Z' })
  madeAt!: string;

  @When({ description: 'When it ends: with its device.', example: '2026-06-30T22:00:00.000000Z' })
  expiresAt!: string;

  @Computed({ description: 'Older tokens that this one put an end to.', example: 0 })
  ended!: number;
}

export class TokensEndedAnswer {
  @Computed({ description: 'Tokens that were ended.', example: 2 })
  ended!: number;
}
