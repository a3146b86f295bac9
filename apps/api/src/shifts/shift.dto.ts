import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Id, Parts, Text, When } from '../http/fields.js';
import { RecordAnswer, StringRecordInput } from '../records/record.dto.js';

/** One person of a crew. */
export class CrewMemberPart {
  @Id({ description: 'The person.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b02' })
  personId!: string;

  @Text({ description: 'What the person does in this shift.', example: 'Shift lead', max: 80 })
  duty!: string;
}

/** `observedAt` is its beginning. Shifts may overlap: two crews can work at once. */
export class ShiftInput extends StringRecordInput {
  @Text({ description: 'What people call it.', example: 'night 2026-03-02', max: 80 })
  name!: string;

  @When({ description: 'Its end; absent while it runs.', example: '2026-03-02T17:00:00Z', optional: true })
  until?: string | null;

  @Parts({
    description: 'Who is on it, each person once.', of: () => CrewMemberPart, min: 1, max: 60,
    example: [
      { personId: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b02', duty: 'Shift lead' }, { personId: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b0a', duty: 'Line operator' },
    ],
  })
  crew!: CrewMemberPart[];

  @Text({ description: 'The weather.', example: 'Rain from 09:00, 4 °C', max: 1000, optional: true })
  weather?: string | null;

  @Text({ description: 'Anything else worth knowing.', example: 'Gauge room heated', max: 4000, optional: true })
  note?: string | null;
}

/** The shift's own fields of an answer. */
export class ShiftContent extends OmitType(ShiftInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class ShiftAnswer extends IntersectionType(RecordAnswer, ShiftContent) {}
