import { join } from 'node:path';
import type { DataSource } from 'typeorm';
import type { Logger } from 'pino';
import { createDataSource, migrate, startEmbeddedPostgres } from '#libs/persistence';
import { MIGRATIONS } from '../../../../migrations/index.js';
import { ENTITIES } from '../app.module.js';
import type { Configuration } from '../configuration.js';
import { StartFailure } from './start-failure.js';

const OLDEST_SERVER = 15;

/** The database the program works with, migrated. */
export interface OpenDatabase {
  readonly dataSource: DataSource;
  /** True when it is the program's own and was made just now. */
  readonly firstStart: boolean;
  readonly embedded: boolean;
  /** How its owner connects. */
  readonly url: string;
  /** Closes the connections, and stops the server when it is the program's own. */
  close(): Promise<void>;
}

interface Server {
  readonly url: string;
  readonly firstStart: boolean;
  readonly embedded: boolean;
  readonly stop: () => Promise<void>;
}

/** Starts or reaches the server, checks it, migrates, and connects as the application. Throws what startFailureLine reads. */
export async function openDatabase(configuration: Configuration, logger: Logger): Promise<OpenDatabase> {
  const server = await serverOf(configuration, logger);
  try {
    await prepare(server, logger);
    const dataSource = await createDataSource({
      url: server.url,
      entities: ENTITIES,
      role: 'everymetre_app',
      poolSize: configuration.databasePool,
      onPoolError: (error) => { logger.warn({ err: error }, 'a database connection was lost'); },
    }).initialize();
    return {
      dataSource,
      firstStart: server.firstStart,
      embedded: server.embedded,
      url: server.url,
      async close() {
        await dataSource.destroy();
        await server.stop();
      },
    };
  } catch (error) {
    await server.stop();
    throw error;
  }
}

async function serverOf({ databaseUrl, dataFolder }: Configuration, logger: Logger): Promise<Server> {
  if (databaseUrl !== null) {
    return { url: databaseUrl, firstStart: false, embedded: false, stop: () => Promise.resolve() };
  }
  const server = await startEmbeddedPostgres({
    dataFolder: join(dataFolder, 'database'),
    log: (line) => { logger.info(line); },
  });
  return { url: server.url, firstStart: server.firstStart, embedded: true, stop: () => server.stop() };
}

async function prepare({ url, embedded }: Server, logger: Logger): Promise<void> {
  const owner = await createDataSource({ url, entities: [], migrations: MIGRATIONS, poolSize: 2 }).initialize();
  try {
    await demandVersion(owner);
    if (embedded) await demandDurability(owner);
    const applied = await migrate(owner);
    if (applied.length > 0) logger.info({ applied }, 'migrations applied');
  } finally {
    await owner.destroy();
  }
}

async function demandVersion(owner: DataSource): Promise<void> {
  const rows: { server_version: string }[] = await owner.query('show server_version');
  const version = rows[0]?.server_version ?? '';
  if (Number.parseInt(version, 10) >= OLDEST_SERVER) return;
  throw new StartFailure(`The server of DATABASE_URL is PostgreSQL ${version}: version ${OLDEST_SERVER} or newer is needed.`);
}

/** What was acknowledged must survive a power cut; a setting that says otherwise keeps the program from starting. */
async function demandDurability(owner: DataSource): Promise<void> {
  for (const setting of ['fsync', 'full_page_writes', 'synchronous_commit']) {
    const rows: { value: string }[] = await owner.query('select current_setting($1) as value', [setting]);
    if (rows[0]?.value !== 'on') {
      throw new StartFailure(`The program's own PostgreSQL has ${setting} = ${rows[0]?.value ?? 'nothing'}: it must be on.`);
    }
  }
}
