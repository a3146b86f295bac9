import { createHash } from 'node:crypto';
import { brotliCompressSync, gzipSync } from 'node:zlib';
import { v7 as uuidv7 } from 'uuid';
import { arrowStream, float32s, int64s } from '../fixtures/sample-files.js';
import type { Random } from '../fixtures/signals.js';

/** A request that brings a part, and is wrong somewhere: as it goes over the wire. */
export interface BadRequest {
  readonly fault: string;
  readonly path: string;
  readonly headers: Readonly<Record<string, string>>;
  /** Bytes after the head, piece by piece; a number is a pause in ms, `Infinity` an end that never comes. */
  readonly pieces: Iterable<Uint8Array | number>;
  readonly statuses: readonly number[];
  /** What the answer has to name; null where nothing of the request can be read. */
  readonly field: RegExp | null;
  /** The sender goes away after what it sent. */
  readonly leaves?: true;
}

const ARROW = 'application/vnd.apache.arrow.stream';
const TIMES = 'firstAt=2026-03-02T06:10:00Z&lastAt=2026-03-02T06:11:00Z';
const digestOf = (bytes: Uint8Array): string => `sha-256=:${createHash('sha256').update(bytes).digest('base64')}:`;

/** Requests for an upload with the columns `position` and `wall` that are wrong beside what is in the part; of each fault several. */
export function badRequests(uploadId: string, random: Random): BadRequest[] {
  const good = goodPart(random);
  const path = (no: string | number, query = TIMES, id = uploadId): string => `/api/signal-uploads/${id}/parts/${no}?${query}`;
  const one = <T>(from: readonly T[]): T => from[Math.trunc(random() * from.length)] as T;
  const wrong = (fault: string, statuses: readonly number[], field: RegExp | null, changes: Partial<BadRequest> & { readonly more?: Readonly<Record<string, string>>; readonly bytes?: Uint8Array }): BadRequest => {
    const { more = {}, bytes = good, ...rest } = changes;
    const headers = { 'content-type': ARROW, 'content-digest': digestOf(bytes), 'content-length': String(bytes.length), ...more };
    return { fault, path: path(1), headers, pieces: [bytes], statuses, field, ...rest };
  };
  const made: [number, () => BadRequest][] = [
    [10, () => wrong('another digest', [400], /^Content-Digest$/, { more: { 'content-digest': digestOf(Buffer.from(String(random()))) } })],
    [10, () => wrong('a digest that is none', [400], /^Content-Digest$/, { more: { 'content-digest': one(['', 'sha-256', 'md5=:AAAA:', 'sha-256=:AAAA:', 'sha-256=AAAA', digestOf(good).slice(0, -1), `${digestOf(good)}, ${digestOf(good)}`]) } })],
    [8, () => wrong('another type', [415], /^Content-Type$/, { more: { 'content-type': one(['application/octet-stream', 'text/plain', 'image/png', 'application/pdf', 'multipart/form-data; boundary=x']) } })],
    [4, () => wrong('JSON', [400, 415], null, { more: { 'content-type': 'application/json' } })],
    [10, () => wrong('an unknown encoding', [400], /^Content-Encoding$/, { more: { 'content-encoding': one(['lzma', 'gzip, gzip', 'x-gzip', 'compress', 'utf-8', 'gzip;q=1']) } })],
    [12, () => wrong('a number that is none', [400], /^partNo$/, { path: path(one(['0', '-1', '1000001', '99999999999999999999', '1.5', 'one', '1e3', '%20', '01'])) })],
    [8, () => wrong('another upload', [400, 404], null, { path: path(1, TIMES, one([uuidv7(), 'x', '00000000-0000-0000-0000-000000000000'])) })],
    [8, () => wrong('times that are none', [400, 422], /^(firstAt|lastAt|direction|when)$/, {
      path: path(1, one(['', 'firstAt=2026-03-02T06:10:00Z', 'firstAt=today&lastAt=tomorrow', 'lastAt=2026-03-02T06:10:00Z&firstAt=2026-03-02T06:11:00Z', `${TIMES}&direction=up`, `${TIMES}&when=now`, `${TIMES}&firstAt=2026-03-02T06:10:00Z`])),
    })],
    [6, () => wrong('no bytes', [422], /^body/, { bytes: new Uint8Array() })],
    [6, () => {
      const bytes = Buffer.concat([good, Buffer.alloc(100)]);
      return wrong('a length that is too short', [400], null, { bytes, more: { 'content-length': String(good.length - 1 - Math.trunc(random() * 100)) }, leaves: true });
    }],
    [6, () => wrong('a length that is too long', [], null, { more: { 'content-length': String(good.length + 100) }, leaves: true })],
    [6, () => wrong('a length that is too large', [413], /^body$/, { more: { 'content-length': one(['16777217', '2147483648', '9007199254740991']) }, leaves: true })],
    [6, () => wrong('a length that is none', [400], null, { more: { 'content-length': one(['-1', 'x', '1, 2', '1e3', '99999999999999999999999']) }, leaves: true })],
    [4, () => wrong('chunks that are none', [400], null, { more: { 'transfer-encoding': 'chunked', 'content-length': '' }, pieces: [Buffer.from(one(['zz\r\n', '-5\r\nabcde\r\n', 'fffffffffffffffff\r\nx']))], leaves: true })],
    [3, () => wrong('chunks without an end', [413], /^body$/, { more: { 'transfer-encoding': 'chunked', 'content-length': '' }, pieces: endless() })],
    [8, () => wrong('a sender that goes away', [], null, { pieces: [good.subarray(0, Math.trunc(random() * good.length))], leaves: true })],
    [3, () => wrong('a body that stands still', [408], /^body$/, { pieces: [good.subarray(0, 20), Infinity] })],
    [2, () => wrong('a body by drops', [408], /^body$/, { pieces: drops(good) })],
    [3, () => wrong('a bomb within a bomb', [422], /^body/, { bytes: gzipSync(gzipSync(Buffer.alloc(8 * 2 ** 20))), more: { 'content-encoding': 'gzip' } })],
    [2, () => wrong('a bomb of zeros', [413], /^body/, { bytes: brotliCompressSync(Buffer.alloc(40 * 2 ** 20)), more: { 'content-encoding': 'br' } })],
  ];
  return made.flatMap(([count, make]) => Array.from({ length: count }, make));
}

function goodPart(random: Random): Uint8Array {
  const rows = 200 + Math.trunc(random() * 200);
  return arrowStream([
    { name: 'position', batches: [int64s(BigInt64Array.from({ length: rows }, (_, row) => BigInt(row)))] }, { name: 'wall', batches: [float32s(Float32Array.from({ length: rows }, () => 5 + random()))] },
  ]);
}

function* endless(): Generator<Uint8Array> {
  const chunk = Buffer.concat([Buffer.from('100000\r\n'), Buffer.alloc(2 ** 20), Buffer.from('\r\n')]);
  for (let count = 0; count < 1000; count += 1) yield chunk;
}

function* drops(bytes: Uint8Array): Generator<Uint8Array | number> {
  for (let at = 0; at < bytes.length; at += 1) {
    yield bytes.subarray(at, at + 1);
    yield 200;
  }
}
