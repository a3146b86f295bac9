import { malformed } from './problem.js';

const LONGEST_QUERY_VALUE = 2000;

/** Names that reach into an object's own machinery. */
const FORBIDDEN_NAMES = new Set(['__proto__', 'constructor', 'prototype']);

/**
 * Refuses, with 400, a query in which a key comes twice (one of the values would be lost), has a name that reaches
 * into objects, or is over-long. `query` is Fastify's: a repeated key is an array in it.
 */
export function checkQuery(query: unknown): void {
  for (const [field, value] of Object.entries(query as Record<string, unknown>)) {
    if (FORBIDDEN_NAMES.has(field)) throw malformed([{ field, value: null, limit: 'no such field is taken here' }]);
    if (typeof value !== 'string') throw malformed([{ field, value, limit: 'given once' }]);
    if (value.length > LONGEST_QUERY_VALUE) {
      throw malformed([{ field, value, limit: `at most ${LONGEST_QUERY_VALUE} characters` }]);
    }
  }
}
