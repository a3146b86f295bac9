import { QueryFailedError } from 'typeorm';

/** What PostgreSQL said about a refused statement. */
export interface SqlRefusal {
  readonly sqlState: string;
  readonly constraint: string | null;
  readonly table: string | null;
  readonly detail: string | null;
  readonly message: string;
}

interface DriverFields {
  code?: unknown;
  constraint?: unknown;
  table?: unknown;
  detail?: unknown;
  message?: unknown;
}

const text = (value: unknown): string | null => (typeof value === 'string' ? value : null);

/** The refusal behind an error of TypeORM or pg; null when it is no error of the database. */
export function sqlRefusal(error: unknown): SqlRefusal | null {
  const fields = (error instanceof QueryFailedError ? error.driverError : error) as DriverFields | null | undefined;
  const sqlState = text(fields?.code);
  if (fields == null || sqlState === null || !/^[0-9A-Z]{5}$/.test(sqlState)) return null;
  return {
    sqlState,
    constraint: text(fields.constraint),
    table: text(fields.table),
    detail: text(fields.detail),
    message: text(fields.message) ?? '',
  };
}

/** The five-character SQLSTATE of an error, or null. */
export function sqlStateOf(error: unknown): string | null {
  return sqlRefusal(error)?.sqlState ?? null;
}
