/** Why the program's own PostgreSQL cannot be started or stopped; the message is one line: what is wrong, what to do. */
export class EmbeddedPostgresError extends Error {
  override readonly name = 'EmbeddedPostgresError';

  constructor(message: string, options?: ErrorOptions) {
    super(message.replace(/\s+/g, ' ').trim(), options);
  }
}

/** The system's code (`EACCES`, ...) or the SQLSTATE of an error, or an empty string when it has none. */
export function codeOf(error: unknown): string {
  return textIn(error, 'code') ?? '';
}

/** The text of whatever was thrown. */
export function reasonOf(error: unknown): string {
  return textIn(error, 'message') ?? String(error);
}

/** By property and not by `instanceof`: Node's errors are of another realm where the modules run in a VM context. */
function textIn(error: unknown, name: 'code' | 'message' | 'stderr'): string | undefined {
  if (typeof error !== 'object' || error === null) return undefined;
  const value: unknown = Reflect.get(error, name);
  return typeof value === 'string' ? value : undefined;
}

/** What a program that failed wrote to its standard error, when its error carries that. */
export function standardErrorOf(error: unknown): string {
  return textIn(error, 'stderr') ?? '';
}
