export { EmbeddedPostgresError } from './embedded-postgres-error.js';
export { startEmbeddedPostgres, type EmbeddedPostgres, type EmbeddedPostgresOptions } from './start.js';
