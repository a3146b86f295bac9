import { Socket } from 'node:net';
import { Readable } from 'node:stream';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { Refused } from './problem.js';

/** Types of body that are handed on as a stream of bytes, to the routes that ask for one. */
export const STREAMED_TYPES = ['application/octet-stream', 'application/pdf', 'image/jpeg', 'image/png', 'image/tiff', 'text/csv'] as const;
/** The same for samples; a route of files does not know them. */
export const SAMPLE_TYPES = ['application/vnd.apache.arrow.stream', 'application/x-ndjson', 'text/csv'] as const;

/** Routes that read their body as a stream, and of which types; everywhere else these types are refused with 415. */
const STREAMED_ROUTES: ReadonlyMap<string, readonly string[]> = new Map<string, readonly string[]>([
  ['/api/files', STREAMED_TYPES], ['/api/certificate-imports', STREAMED_TYPES], ['/api/certificate-imports/preview', STREAMED_TYPES],
  ['/api/signal-uploads/:id/parts/:partNo', SAMPLE_TYPES],
]);

/** Has `server` hand bodies of these types on as they come: their size is counted by whoever reads them. */
export function takeStreams(server: FastifyInstance): void {
  server.addContentTypeParser([...new Set<string>([...STREAMED_TYPES, ...SAMPLE_TYPES])], (request, payload, done) => {
    const { url } = request.routeOptions;
    const type = request.headers['content-type'] ?? 'This type';
    const taken = url === undefined ? undefined : STREAMED_ROUTES.get(url);
    // A path that is not there is answered as such, whatever was sent to it.
    if (url === undefined || taken?.some((one) => type.toLowerCase().startsWith(one)) === true) done(null, payload);
    else {
      const types = (taken ?? ['application/json']).join(', ');
      done(new Refused(415, 'media-type', `${type} is not taken here, but ${types}.`, [{ field: 'Content-Type', value: request.headers['content-type'] ?? null, limit: `one of ${types}` }]));
    }
  });
}

/**
 * The body of a request as a stream. Refuses with 415 what came as JSON or without a body. Once all of it is here the
 * connection may stand still for as long as the work on it takes.
 */
export function streamedBody({ body, raw, routeOptions }: FastifyRequest): Readable {
  if (body instanceof Readable) {
    const { socket } = raw;
    // A request injected by a test has no socket of the network.
    if (socket instanceof Socket) body.once('end', () => { socket.setTimeout(0); });
    return body;
  }
  const types = (STREAMED_ROUTES.get(routeOptions.url ?? '') ?? STREAMED_TYPES).join(', ');
  throw new Refused(415, 'media-type', `Send the bytes as one of ${types}.`, [{ field: 'Content-Type', value: null, limit: `one of ${types}` }]);
}
