import { malformed } from './problem.js';

const DEEPEST = 32;

/** Refuses, with 400, a body whose objects and lists are nested so deep that walking through it could run out of stack. */
export function checkDepth(body: unknown): void {
  let level: unknown[] = [body];
  for (let depth = 0; level.length > 0; depth += 1) {
    if (depth > DEEPEST) throw malformed([{ field: '', value: null, limit: `at most ${DEEPEST} levels of nesting` }]);
    level = level.flatMap((value) => {
      if (typeof value !== 'object' || value === null) return [];
      return (Object.values(value) as unknown[]).filter((part) => typeof part === 'object' && part !== null);
    });
  }
}
