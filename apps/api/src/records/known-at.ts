import { ApiQuery } from '@nestjs/swagger';
import { isWorkingInstant } from '../http/fields.js';
import { malformed } from '../http/problem.js';

/** Documents the parameter `asKnownAt` of a question. */
export const KnownAtQuery = (): MethodDecorator => ApiQuery({
  name: 'asKnownAt', required: false, description: 'As known at this instant; now when absent.',
  schema: { type: 'string', format: 'date-time', example: '2026-03-13T12:00:00Z' },
});

/** The `asKnownAt` of a query, or null for now. Refuses with 400 what is no instant. */
export function knownAtOf(text: unknown): string | null {
  if (text === undefined) return null;
  if (!isWorkingInstant(text)) {
    throw malformed([{ field: 'asKnownAt', value: text, limit: 'an instant such as 2026-03-01T07:15:00Z' }]);
  }
  return text;
}
