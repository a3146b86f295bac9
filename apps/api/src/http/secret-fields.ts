import { Refused } from './problem.js';
import { parsed } from './validation.js';

/** As `parsed`, for bodies with secrets in `fields`: a refusal names such a field and never shows its value. */
export function parsedWithSecrets<T extends object>(type: new () => T, body: unknown, fields: readonly string[]): T {
  try {
    return parsed(type, body);
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    const errors = error.errors.map((entry) =>
      entry.field === '' || fields.includes(entry.field) ? { ...entry, value: null } : entry,
    );
    throw new Refused(error.status, error.code, error.message, errors, error.members);
  }
}
