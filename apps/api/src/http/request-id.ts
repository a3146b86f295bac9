import type { IncomingHttpHeaders } from 'node:http';
import { v7 as uuidv7 } from 'uuid';

/** Short enough for a log line, and without blanks or quotes that would tear it apart. */
const TAKEN = /^[\x21\x23-\x7e]{1,100}$/;

/** The client's own X-Request-Id when it can be taken as it is, else a new UUIDv7. */
export function requestIdOf(request: { readonly headers: IncomingHttpHeaders }): string {
  const given = request.headers['x-request-id'];
  return typeof given === 'string' && TAKEN.test(given) ? given : uuidv7();
}
