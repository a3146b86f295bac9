import type { Interval } from './interval.js';
import { interval } from './interval.js';

/** A canonical list as the text of a PostgreSQL int8multirange, such as `{[1,5),[7,9)}`; `{}` when empty. Cost O(n). */
export function formatMultirange(canonical: readonly Interval[]): string {
  return `{${canonical.map(({ fromMm, toMm }) => `[${fromMm},${toMm})`).join(',')}}`;
}

/**
 * The intervals of an int8multirange as PostgreSQL prints it, in the order of the text. Cost O(length of the text).
 * Throws SyntaxError when the text is not of that form, and RangeError when a bound is infinite or beyond the safe
 * integers, or when a range is empty or reversed.
 */
export function readMultirange(text: string): Interval[] {
  if (!text.startsWith('{') || !text.endsWith('}') || text.length < 2) throw notAMultirange(text);
  if (text === '{}') return [];
  // PostgreSQL prints a discrete range as [lower,upper), and an infinite bound as nothing.
  const range = /[[(](-?\d*),(-?\d*)\)([,}])/y;
  range.lastIndex = 1;
  const result: Interval[] = [];
  for (;;) {
    const isLowerInclusive = text[range.lastIndex] === '[';
    const match = range.exec(text);
    if (match === null) throw notAMultirange(text);
    const [whole, lower = '', upper = '', separator] = match;
    if (lower === '' || upper === '') throw new RangeError(`range has an infinite bound: ${whole.slice(0, -1)}`);
    if (!isLowerInclusive) throw notAMultirange(text);
    result.push(interval(boundMm(lower, text), boundMm(upper, text)));
    if (separator === '}') {
      if (range.lastIndex !== text.length) throw notAMultirange(text);
      return result;
    }
  }
}

function boundMm(digits: string, text: string): number {
  if (digits === '-') throw notAMultirange(text);
  const value = Number(digits);
  if (!Number.isSafeInteger(value)) throw new RangeError(`bound is beyond the safe integers: ${digits}`);
  return value;
}

function notAMultirange(text: string): SyntaxError {
  const shown = text.length > 80 ? `${text.slice(0, 80)}...` : text;
  return new SyntaxError(`not an int8multirange as PostgreSQL prints it: ${JSON.stringify(shown)}`);
}
