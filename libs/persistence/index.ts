export { NoTurn } from './write-turns.js';
export { inTransaction, type Actor, type WriteLock, type Transaction } from './transaction.js';
export { Clock, DatabaseClock } from './clock.js';
export { createDataSource, type DatabaseOptions, type EntityClass } from './data-source.js';
export { migrate } from './migrate.js';
export { instantOf, isInstant, microseconds, normalInstant, type Instant } from './instant.js';
export { instantFromDatabase, type TimeSpan } from './column-values.js';
export { RecordStore, StaleVersion, type NewVersion, type RecordClass } from './record-store.js';
export {
  MARK_KINDS, RecordVersion, SOURCES, StringRecordVersion, VERSION_COLUMNS, type Mark, type Source,
} from './record.js';
export { IndexByName, RecordTable, type RecordReferences } from './record-table.js';
export { sqlRefusal, sqlStateOf, type SqlRefusal } from './sql-errors.js';
export { EmbeddedPostgresError, startEmbeddedPostgres } from './embedded/index.js';
export { onOneConnection, run, type Outcome } from './statements.js';
export { NewsLine, type NewsLineOptions } from './news-line.js';
