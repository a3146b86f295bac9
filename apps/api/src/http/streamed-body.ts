import { Socket } from 'node:net';
import { Readable } from 'node:stream';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { Refused } from './problem.js';

/** Types of body that are handed on as a stream of bytes, to the routes that ask for one. */
export const STREAMED_TYPES = ['application/octet-stream', 'application/pdf', 'image/jpeg', 'image/png', 'image/tiff', 'text/csv'] as const;

/** Routes that read their body as a stream; everywhere else these types are refused with 415. */
const STREAMED_ROUTES: ReadonlySet<string> = new Set(['/api/files', '/api/certificate-imports', '/api/certificate-imports/preview']);

/** Has `server` hand bodies of these types on as they come: their size is counted by whoever reads them. */
export function takeStreams(server: FastifyInstance): void {
  server.addContentTypeParser([...STREAMED_TYPES], (request, payload, done) => {
    const { url } = request.routeOptions;
    // A path that is not there is answered as such, whatever was sent to it.
    if (url === undefined || STREAMED_ROUTES.has(url)) done(null, payload);
    else done(new Refused(415, 'media-type', `${request.headers['content-type'] ?? 'This type'} is not taken here, but application/json.`));
  });
}

/**
 * The body of a request as a stream. Refuses with 415 what came as JSON or without a body. Once all of it is here the
 * connection may stand still for as long as the work on it takes.
 */
export function streamedBody({ body, raw }: FastifyRequest): Readable {
  if (body instanceof Readable) {
    const { socket } = raw;
    // A request injected by a test has no socket of the network.
    if (socket instanceof Socket) body.once('end', () => { socket.setTimeout(0); });
    return body;
  }
  throw new Refused(415, 'media-type', `Send the bytes of the file as one of ${STREAMED_TYPES.join(', ')}.`, [
    { field: 'Content-Type', value: null, limit: `one of ${STREAMED_TYPES.join(', ')}` },
  ]);
}
