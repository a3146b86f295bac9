import { ApiProperty } from '@nestjs/swagger';
import { Choices, Id, Part, Text, When } from '../http/fields.js';
import { LONGEST_PASSWORD, SHORTEST_PASSWORD } from './password-rules.js';
import { ROLES, type Role } from './permissions.js';

export class SignInInput {
  @Text({ description: 'The sign-in name; capitals make no difference.', example: 'ilka', max: 80 })
  name!: string;

  @Text({ description: 'The password.', example: 'coil nine stayed dry', max: LONGEST_PASSWORD * 4 })
  password!: string;
}

export class PersonSummary {
  @Id({ description: 'The person.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b02' })
  id!: string;

  @Text({ description: 'The name, as records show it.', example: 'Ilka Brandt', max: 120 })
  name!: string;

  @Choices({ description: 'The roles.', example: ['qc-inspector'], of: ROLES, max: ROLES.length })
  roles!: readonly Role[];
}

export class SignInAnswer {
  @ApiProperty({
    description: 'Send it as Authorization: Bearer … with every request. It ends after 30 minutes without use.',
    example: 'pX0oTq1mS3vV5dZ7bN9kH2gF4jL6wR8yC0aE1uI3sQ5',
    minLength: 43,
    maxLength: 43,
  })
  token!: string;

  @When({ description: 'When it ends even in use.', example: '2026-03-02T20:15:00.000000Z' })
  expiresAt!: string;

  @Part({ description: 'Who is signed in.', of: () => PersonSummary })
  person!: PersonSummary;
}

export class PasswordInput {
  @Text({ description: 'The password until now.', example: 'coil nine stayed dry', max: LONGEST_PASSWORD * 4 })
  current!: string;

  @ApiProperty({
    description: `The password from now on: ${SHORTEST_PASSWORD} to ${LONGEST_PASSWORD} characters, none that is guessed first, without the own name.`,
    example: 'nine coils stayed dry',
    minLength: SHORTEST_PASSWORD,
    maxLength: LONGEST_PASSWORD,
  })
  @Text({ description: 'The password from now on.', example: 'nine coils stayed dry', max: LONGEST_PASSWORD * 4 })
  next!: string;
}
