import { getMetadataStorage } from 'class-validator';
import { isPrintable } from '../http/fields.js';
import { malformed } from '../http/problem.js';
import { parsed } from '../http/validation.js';
import type { RecordAnswer } from './record.dto.js';

export interface Amendment {
  readonly reason: string;
  readonly changes: Readonly<Record<string, unknown>>;
}

/** How the reason of a version begins that no person wrote: its position followed from another record's change. */
export const DERIVED_AGAIN = 'Position derived again because';

/** The names of the fields a request class takes. */
export function fieldsOf(type: new () => object): ReadonlySet<string> {
  const metadata = getMetadataStorage().getTargetValidationMetadatas(type, '', true, false);
  return new Set(metadata.map(({ propertyName }) => propertyName));
}

/** The body of an amendment: a reason, and the fields that change. Refuses a body without a reason. */
export function amendmentOf(body: unknown): Amendment {
  if (typeof body !== 'object' || body === null || Array.isArray(body)) {
    throw malformed([{ field: '', value: body, limit: 'a JSON object' }]);
  }
  const { reason, ...changes } = body as Record<string, unknown>;
  if (!isPrintable(reason, 3, 2000)) {
    throw malformed([{ field: 'reason', value: reason, limit: 'why the record is amended: 3 to 2000 characters' }]);
  }
  // Who borrowed the program's words would pass for it, and the amendment be left out where only people count.
  if (reason.startsWith(DERIVED_AGAIN)) throw malformed([{ field: 'reason', value: reason, limit: `words of your own, not "${DERIVED_AGAIN}"` }]);
  return { reason, changes };
}

/**
 * The whole request that would make the amended record: the record as answered, with the changed fields in their
 * place. A changed field that is null is taken away. The id and the string stay; values confirmed before stay so.
 */
export function amendedInput(
  type: new () => object,
  answer: RecordAnswer,
  changes: Amendment['changes'],
  confirmed: readonly string[],
): Record<string, unknown> {
  const current = answer as unknown as Readonly<Record<string, unknown>>;
  refuseChange(changes, current, 'id');
  refuseChange(changes, current, 'stringId');
  const merged: Record<string, unknown> = { ...changes };
  for (const field of fieldsOf(type)) {
    if (!(field in changes)) merged[field] = current[field];
    if (merged[field] === null || merged[field] === undefined) Reflect.deleteProperty(merged, field);
  }
  const given = changes['confirm'] ?? [];
  return { ...merged, confirm: Array.isArray(given) ? [...confirmed, ...(given as unknown[])] : given };
}

/** A list longer than this is not validated again while it stays as it is. */
const LONG_LIST = 50;

/**
 * The checked request of an amendment. A long list that the amendment does not change was checked when it was entered:
 * its first entry stands for it, so that a note on a large record costs no more than on a small one.
 */
export function parsedAmendment<I extends object>(type: new () => I, merged: Readonly<Record<string, unknown>>, changes: Amendment['changes']): I {
  const long = Object.entries(merged).filter(([field, value]) => !(field in changes) && field !== 'confirm' && Array.isArray(value) && value.length > LONG_LIST);
  const shortened = long.map(([field, value]) => [field, (value as unknown[]).slice(0, 1)] as const);
  return Object.assign(parsed(type, { ...merged, ...Object.fromEntries(shortened) }), Object.fromEntries(long));
}

function refuseChange(changes: Amendment['changes'], current: Readonly<Record<string, unknown>>, field: string): void {
  if (field in changes && changes[field] !== current[field]) {
    throw malformed([{ field, value: changes[field], limit: `stays ${String(current[field])}` }]);
  }
}
