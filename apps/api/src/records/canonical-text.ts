import { createHash } from 'node:crypto';
import canonicalize from 'canonicalize';

/** Canonical JSON (RFC 8785) of a value and its SHA-256, hexadecimal: equal values always give the same text. */
export function canonicalText(value: unknown): { readonly text: string; readonly sha256: string } {
  const text = canonicalize(value) ?? '';
  return { text, sha256: createHash('sha256').update(text).digest('hex') };
}
