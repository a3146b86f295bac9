import { createServer, type AddressInfo } from 'node:net';
import { codeOf, EmbeddedPostgresError, reasonOf } from './embedded-postgres-error.js';

const address = '127.0.0.1';

/** A port of 127.0.0.1 that is free now: the given one, or any. Throws EmbeddedPostgresError when the given one is not. */
export async function freePort(given: number | undefined): Promise<number> {
  const server = createServer();
  return await new Promise<number>((resolve, reject) => {
    server.once('error', (error) => {
      reject(unusablePort(given ?? 0, codeOf(error) === 'EADDRINUSE' ? 'it is taken by another program' : reasonOf(error)));
    });
    server.listen({ port: given ?? 0, host: address, exclusive: true }, () => {
      const { port } = server.address() as AddressInfo;
      server.close(() => {
        resolve(port);
      });
    });
  });
}

/** The error of a port PostgreSQL cannot listen on. */
export function unusablePort(port: number, reason: string): EmbeddedPostgresError {
  return new EmbeddedPostgresError(
    `PostgreSQL cannot listen on port ${port} of ${address} (${reason}): free that port, or choose another.`,
  );
}
