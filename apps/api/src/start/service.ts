import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import type { Logger } from 'pino';
import type { Configuration } from '../configuration.js';
import { createApp } from '../create-app.js';
import { openDatabase } from './open-database.js';

/** The application with its database, not yet listening. */
export interface Service {
  readonly app: NestFastifyApplication;
  /** True when the program's own database was made just now. */
  readonly firstStart: boolean;
  readonly embedded: boolean;
  /** Stops accepting, finishes what is under way, closes the database and stops it when it is the program's own. */
  stop(): Promise<void>;
}

/** Opens the database and makes the application on it. Whatever was opened is closed again when that fails. */
export async function startService(configuration: Configuration, logger: Logger): Promise<Service> {
  const database = await openDatabase(configuration, logger);
  try {
    const app = await createApp({ configuration, dataSource: database.dataSource, logger });
    return {
      app,
      firstStart: database.firstStart,
      embedded: database.embedded,
      async stop() {
        await app.close();
        await database.close();
      },
    };
  } catch (error) {
    await database.close();
    throw error;
  }
}
