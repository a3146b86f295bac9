import type { Logger } from 'pino';
import type { Service } from './service.js';

const LONGEST_STOP_MS = 10_000;

/** Stops the service on SIGTERM or SIGINT and exits: 0 when all was closed, 1 when that took too long or failed. */
export function stopOnSignal(service: Service, logger: Logger): void {
  let stopping = false;
  const stop = (signal: string): void => {
    if (stopping) process.exit(1);
    stopping = true;
    logger.info({ signal }, 'stopping');
    const server = service.app.getHttpAdapter().getInstance().server;
    // Requests that do not end are cut off, so that the database is closed in order all the same.
    const cut = setTimeout(() => {
      logger.warn('requests were still under way and are cut off');
      server.closeAllConnections();
    }, LONGEST_STOP_MS);
    service.stop().then(
      () => {
        clearTimeout(cut);
        logger.info('stopped');
        process.exit(0);
      },
      (error: unknown) => {
        logger.error({ err: error }, 'stopping failed');
        process.exit(1);
      },
    );
  };
  process.on('SIGTERM', stop);
  process.on('SIGINT', stop);
}
