import helmet from '@fastify/helmet';
import { NestFactory } from '@nestjs/core';
import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import type { FastifyBaseLogger } from 'fastify';
import { pino } from 'pino';
import type { DataSource } from 'typeorm';
import { DatabaseClock, type Clock } from '#libs/persistence';
import { AppModule } from './app.module.js';
import type { Configuration } from './configuration.js';
import { DOCS_PATH, serveDocs } from './docs/serve-docs.js';
import { NestLogger } from './http/nest-logger.js';
import { ProblemFilter } from './http/problem.filter.js';
import { ServerAdapter } from './http/server-adapter.js';

export interface AppOptions {
  readonly configuration: Configuration;
  /** Initialised, with the application's role. It stays the caller's to destroy, after the application is closed. */
  readonly dataSource: DataSource;
  /** Nothing is logged without it. */
  readonly logger?: FastifyBaseLogger;
  /** The database's clock without it, and always in service. */
  readonly clock?: Clock;
}

/** An answer of the API is data: a browser that opens one loads and runs nothing. */
const API_POLICY = { 'default-src': ["'none'"], 'frame-ancestors': ["'none'"] };
/** The page of the API document runs its own script and nothing else; its texts carry their styles. */
const DOCS_POLICY =
  "default-src 'none';script-src 'self';style-src 'self' 'unsafe-inline';img-src 'self' data:;connect-src 'self';" +
  "base-uri 'none';form-action 'none';frame-ancestors 'none'";

/** The application as it runs in service and in every end-to-end test; initialised, not yet listening. */
export async function createApp({ configuration, dataSource, logger, clock }: AppOptions): Promise<NestFastifyApplication> {
  const module = AppModule.with(configuration, dataSource, clock ?? new DatabaseClock());
  const log = logger ?? pino({ level: 'silent' });
  const adapter = new ServerAdapter(configuration, log);
  const app = await NestFactory.create<NestFastifyApplication>(module, adapter, {
    logger: new NestLogger(log),
    abortOnError: false,
    bodyParser: false,
  });
  app.useGlobalFilters(new ProblemFilter());
  const server = adapter.getInstance();
  await server.register(helmet, { contentSecurityPolicy: { useDefaults: false, directives: API_POLICY } });
  server.addHook('onRequest', (request, reply, done) => {
    if (request.url.startsWith(DOCS_PATH)) void reply.header('content-security-policy', DOCS_POLICY);
    done();
  });
  serveDocs(app);
  await app.init();
  await server.ready();
  return app;
}
