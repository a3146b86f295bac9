import { subscribe, unsubscribe } from 'node:diagnostics_channel';
import type { FastifyInstance } from 'fastify';

/** A route of the running server; `path` as in the API document, such as `/api/wells/{id}`. */
export interface Route {
  readonly method: string;
  readonly path: string;
}

const STARTED = 'fastify.initialization';

/** Runs `start` and gives, beside its result, every route that the server it started has. */
export async function recordingRoutes<T>(start: () => Promise<T>): Promise<{ started: T; routes: readonly Route[] }> {
  const routes: Route[] = [];
  const listen = (message: unknown): void => {
    const { fastify } = message as { fastify: FastifyInstance };
    fastify.addHook('onRoute', ({ method, url }) => {
      for (const one of [method].flat()) routes.push({ method: one, path: url.replaceAll(/:(\w+)/g, '{$1}') });
    });
  };
  subscribe(STARTED, listen);
  try {
    return { started: await start(), routes };
  } finally {
    unsubscribe(STARTED, listen);
  }
}
