import { createParamDecorator, type ExecutionContext } from '@nestjs/common';
import type { FastifyRequest } from 'fastify';
import type { Actor } from '#libs/persistence';
import { actorOf, principalOf, type Principal } from '../access/principal.js';
import { isPrintable } from '../http/fields.js';
import { malformed, Refused } from '../http/problem.js';
import { canonicalText } from './canonical-text.js';

/** What a write needs beside its body: who, under which key, against which version. */
export interface WriteRequest {
  readonly actor: Actor;
  /** What the line computer that sent the request may write about; null or absent for a person. */
  readonly device?: Principal['device'];
  /** The client's idempotency key with the fingerprint of the whole request, or null. */
  readonly key: { readonly text: string; readonly fingerprint: string } | null;
  /** The version of `If-Match`, or null. */
  readonly version: number | null;
}

/** SHA-256, in hex, of the canonical JSON (RFC 8785) of `value`. */
export const digestOf = (value: unknown): string => canonicalText(value).sha256;

function header(request: FastifyRequest, name: string): string | null {
  const value = request.headers[name];
  return typeof value === 'string' ? value : null;
}

function keyOf(request: FastifyRequest, actor: Actor): WriteRequest['key'] {
  const text = header(request, 'idempotency-key');
  if (text === null) return null;
  if (!isPrintable(text, 1, 100)) {
    throw malformed([{ field: 'Idempotency-Key', value: text, limit: '1 to 100 printable characters' }]);
  }
  const parts = [request.method, request.url, actor.personId, header(request, 'if-match'), request.body ?? null];
  return { text, fingerprint: digestOf(parts) };
}

function versionOf(request: FastifyRequest): number | null {
  const text = header(request, 'if-match');
  if (text === null) return null;
  const match = /^"(\d{1,9})"$/.exec(text);
  if (match === null) {
    throw malformed([{ field: 'If-Match', value: text, limit: 'the version in double quotes, such as "3"' }]);
  }
  return Number(match[1]);
}

/** The version an amendment names; without one it is refused with 428. */
export function demandedVersion(request: WriteRequest): number {
  if (request.version === null) {
    throw new Refused(428, 'version-needed', 'An amendment names the version it amends.', [
      { field: 'If-Match', value: null, limit: 'the version in double quotes, such as "3"' },
    ]);
  }
  return request.version;
}

/** The write request of a call, as a controller's parameter. */
export const Write = createParamDecorator((_: unknown, context: ExecutionContext): WriteRequest => {
  const request = context.switchToHttp().getRequest<FastifyRequest>();
  const actor = actorOf(request);
  return { actor, device: principalOf(request).device, key: keyOf(request, actor), version: versionOf(request) };
});
