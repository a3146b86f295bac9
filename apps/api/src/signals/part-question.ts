import type { FastifyRequest } from 'fastify';
import { microseconds } from '#libs/persistence';
import type { PartEncoding, PartFormat } from '#libs/sample-files';
import { contradictory, Refused } from '../http/problem.js';
import { QueryReader, type Query } from '../trace/trace-question.js';

/** What is said of a part beside its bytes. */
export interface PartQuestion {
  readonly format: PartFormat;
  readonly encoding: PartEncoding;
  /** SHA-256 of the bytes as sent, hexadecimal. */
  readonly sha256: string;
  readonly direction: 'forward' | 'backward';
  /** The sender's clock at the first and the last sample, µs since 1970 UTC; null where the samples say it themselves. */
  readonly time: { readonly fromUs: number; readonly toUs: number } | null;
}

/** Types of body that a part may have. */
export const PART_TYPES: Readonly<Record<string, PartFormat>> = {
  'application/vnd.apache.arrow.stream': 'arrow', 'text/csv': 'csv', 'application/x-ndjson': 'ndjson',
};
const ENCODINGS: readonly PartEncoding[] = ['identity', 'gzip', 'deflate', 'br', 'zstd'];
const DIGEST = /^sha-256=:([A-Za-z0-9+/]{43}=):$/;

/**
 * What a request says of its part. Refuses (400) with one entry for each wrong parameter and header, and (422) times where the
 * samples bring their own, or none where they do not.
 */
export function partQuestionOf({ headers }: Pick<FastifyRequest, 'headers'>, query: Query, isTimed: boolean): PartQuestion {
  const read = new QueryReader(query, ['direction', 'firstAt', 'lastAt']);
  const direction = read.choice('direction', ['forward', 'backward'] as const, 'forward');
  const [firstAt, lastAt] = [read.instant('firstAt'), read.instant('lastAt')];
  const type = (headers['content-type'] ?? '').split(';')[0]?.trim().toLowerCase() ?? '';
  const format = PART_TYPES[type];
  const encoding = (headers['content-encoding'] ?? 'identity').trim().toLowerCase() as PartEncoding;
  if (!ENCODINGS.includes(encoding)) read.wrong('Content-Encoding', encoding, `one of ${ENCODINGS.join(', ')}`);
  const digest = DIGEST.exec(String(headers['content-digest'] ?? ''))?.[1];
  if (digest === undefined) read.wrong('Content-Digest', headers['content-digest'] ?? null, 'sha-256=:…:, the SHA-256 of the bytes sent, in base64 (RFC 9530)');
  read.settle();
  if (format === undefined) {
    const limit = `one of ${Object.keys(PART_TYPES).join(', ')}`;
    throw new Refused(415, 'media-type', `A part is ${limit}.`, [{ field: 'Content-Type', value: type, limit }]);
  }
  return { format, encoding, direction, sha256: Buffer.from(digest ?? '', 'base64').toString('hex'), time: timeOf(firstAt, lastAt, isTimed) };
}

function timeOf(firstAt: string | null, lastAt: string | null, isTimed: boolean): PartQuestion['time'] {
  const given = [['firstAt', firstAt], ['lastAt', lastAt]] as const;
  if (isTimed) {
    const faults = given.filter(([, value]) => value !== null).map(([field, value]) => ({ field, value, limit: 'none: the samples bring their own instants' }));
    if (faults.length > 0) throw contradictory(faults);
    return null;
  }
  const missing = given.filter(([, value]) => value === null).map(([field, value]) => ({ field, value, limit: 'the sender\'s clock at that sample: counter readings tell no time' }));
  if (firstAt === null || lastAt === null) throw contradictory(missing);
  const [fromUs, toUs] = [microseconds(firstAt), microseconds(lastAt)];
  if (fromUs > toUs) throw contradictory([{ field: 'lastAt', value: lastAt, limit: `an instant from ${firstAt} on` }]);
  return { fromUs, toUs };
}
