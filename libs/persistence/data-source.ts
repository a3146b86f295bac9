import { AbstractLogger, DataSource, type DataSourceOptions, type EntitySchema } from 'typeorm';
import pg from 'pg';
import { SnakeCaseColumns } from './naming.js';

export type EntityClass = new () => object;

export interface DatabaseOptions {
  readonly url: string;
  readonly entities: readonly (EntityClass | EntitySchema)[];
  readonly migrations?: readonly EntityClass[];
  /** Connections of this process; times the processes it must stay below the server's max_connections. */
  readonly poolSize?: number;
  /** The database role every connection works as. The owner migrates; the service works as `everymetre_app`. */
  readonly role?: 'everymetre_app';
  readonly onPoolError?: (error: Error) => void;
}

/** Dates, times and JSON reach us as PostgreSQL prints them: pg's own parsers lose microseconds, days and digits. */
const AS_TEXT = new Set<number>([
  pg.types.builtins.DATE,
  pg.types.builtins.TIMESTAMP,
  pg.types.builtins.TIMESTAMPTZ,
]);

const types: pg.CustomTypesConfig = {
  getTypeParser: (oid, format) =>
    AS_TEXT.has(oid) ? (text: string) => text : (pg.types.getTypeParser(oid, format) as (text: string) => unknown),
};

/**
 * Waits, in ms, that keep one stuck statement from holding the line. Statements are planned once for all values: each is
 * written for one index, and planning a search anew took three times as long as the search.
 */
const SESSION_SETTINGS =
  '-c timezone=UTC -c plan_cache_mode=force_generic_plan -c lock_timeout=2000 -c statement_timeout=10000 -c idle_in_transaction_session_timeout=15000';

/** TypeORM prints failures that it throws as well; what is said of them, and where, is the program's to decide. */
class SaysNothing extends AbstractLogger {
  protected writeLog(): void {
    return;
  }
}

/** A TypeORM data source over pg, not yet initialised. The schema is the migrations' alone: nothing synchronizes. */
export function createDataSource(options: DatabaseOptions): DataSource {
  const settings = options.role === undefined ? '-c timezone=UTC' : `${SESSION_SETTINGS} -c role=${options.role}`;
  const sourceOptions: DataSourceOptions = {
    type: 'postgres',
    url: options.url,
    entities: [...options.entities],
    migrations: [...(options.migrations ?? [])],
    migrationsTransactionMode: 'each',
    synchronize: false,
    installExtensions: false,
    uuidExtension: 'pgcrypto',
    invalidWhereValuesBehavior: { null: 'throw', undefined: 'throw' },
    namingStrategy: new SnakeCaseColumns(),
    poolSize: options.poolSize ?? 10,
    applicationName: 'everymetre',
    logger: new SaysNothing(),
    poolErrorHandler: options.onPoolError ?? (() => undefined),
    // Statements sent without waiting travel together; each is answered, or refused, on its own.
    extra: { types, options: settings, connectionTimeoutMillis: 5000, pipeline: true },
  };
  return new DataSource(sourceOptions);
}
