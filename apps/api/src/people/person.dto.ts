import { ApiProperty, IntersectionType, OmitType } from '@nestjs/swagger';
import { LONGEST_PASSWORD, SHORTEST_PASSWORD } from '../access/password-rules.js';
import { ROLES, type Role } from '../access/permissions.js';
import { Choices, Text, YesNo } from '../http/fields.js';
import { RecordAnswer, RecordInput } from '../records/record.dto.js';

export class PersonInput extends RecordInput {
  @Text({ description: 'The name, as records show it.', example: 'Ilka Brandt', max: 120 })
  name!: string;

  @Text({ description: 'The name to sign in with, unique whatever its capitals.', example: 'ilka', min: 2, max: 80 })
  signInName!: string;

  @Choices({ description: 'At least one role, each once.', example: ['qc-inspector'], of: ROLES, max: ROLES.length })
  roles!: Role[];

  @YesNo({ description: 'Whether the person may sign in.', example: true })
  active!: boolean;
}

/** A new person comes with a first password, which is no part of the record. */
export class NewPersonInput extends PersonInput {
  @ApiProperty({
    description: `The first password, ${SHORTEST_PASSWORD} to ${LONGEST_PASSWORD} characters; never shown again, in no history.`,
    example: 'coil nine stayed dry',
    minLength: SHORTEST_PASSWORD,
    maxLength: LONGEST_PASSWORD,
    writeOnly: true,
  })
  password!: string;
}

/** The person's own fields of an answer. */
export class PersonContent extends OmitType(PersonInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class PersonAnswer extends IntersectionType(RecordAnswer, PersonContent) {}
