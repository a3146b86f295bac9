/** A whole JSON string, and the colon behind it when it is a key. */
const STRING = /"(?:[^"\\]|\\.)*"(\s*:)?/g;

/**
 * True when some object of a valid JSON text names a key twice: JSON.parse keeps the last and says nothing. `value` is
 * what JSON.parse made of `text`; it has fewer keys than the text exactly then.
 */
export function hasDuplicateKeys(text: string, value: unknown): boolean {
  let named = 0;
  for (const [, colon] of text.matchAll(STRING)) named += colon === undefined ? 0 : 1;
  return named !== keyCount(value);
}

/** Without recursion: a body may be nested deeper than the stack. */
function keyCount(value: unknown): number {
  const open: unknown[] = [value];
  let count = 0;
  for (let part = open.pop(); part !== undefined; part = open.pop()) {
    if (typeof part !== 'object' || part === null) continue;
    const parts: unknown[] = Object.values(part);
    if (!Array.isArray(part)) count += parts.length;
    for (const inner of parts) if (typeof inner === 'object' && inner !== null) open.push(inner);
  }
  return count;
}
