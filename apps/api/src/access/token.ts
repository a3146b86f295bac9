import { hash, randomBytes } from 'node:crypto';
import type { FastifyRequest } from 'fastify';

const SECRET_BYTES = 32;
const SESSION_TOKEN = /^[A-Za-z0-9_-]{43}$/;
const DEVICE_TOKEN = /^([0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12})\.([A-Za-z0-9_-]{43})$/;

/** A token as sent: a person's session or a device's secret, with the SHA-256 under which it is known here. */
export type SentToken =
  | { readonly kind: 'session'; readonly digest: string }
  | { readonly kind: 'device'; readonly digest: string; readonly secretId: string };

/** 256 random bits in base64url: 43 characters. */
export const newSecret = (): string => randomBytes(SECRET_BYTES).toString('base64url');

/** The SHA-256, in hex, that is kept of a secret. A slow hash would add nothing to 256 random bits. */
export const digestOfSecret = (secret: string): string => hash('sha256', secret, 'hex');

/** The token of `Authorization: Bearer …`; null when there is none, 'unreadable' when it is none of ours. */
export function sentToken(request: FastifyRequest): SentToken | 'unreadable' | null {
  const header = request.headers.authorization;
  if (header === undefined) return null;
  const text = /^Bearer +(\S+)$/i.exec(header)?.[1] ?? '';
  if (SESSION_TOKEN.test(text)) return { kind: 'session', digest: digestOfSecret(text) };
  const [, secretId, secret] = DEVICE_TOKEN.exec(text) ?? [];
  if (secretId === undefined || secret === undefined) return 'unreadable';
  return { kind: 'device', digest: digestOfSecret(secret), secretId };
}
