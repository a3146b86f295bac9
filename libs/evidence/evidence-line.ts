import type { Interval, IntervalSet } from '#libs/intervals';
import { judgedPipe, type JudgedStretch } from './judged-pipe.js';
import type { Testimony } from './testimony.js';

/** What one demand came to along the pipe that it may be made of: all of that pipe, what is not required among it. */
export interface EvidenceLine<R> {
  readonly key: string;
  readonly testimonies: readonly Testimony<R>[];
  readonly stretches: readonly JudgedStretch[];
}

/**
 * The line of a demand: its testimonies on `demanded`, and `not-required` on the rest of `pipe`. `demanded` outside `pipe` plays no part.
 */
export function evidenceLine<R>(key: string, pipe: IntervalSet, demanded: IntervalSet, testimonies: readonly Testimony<R>[]): EvidenceLine<R> {
  const due = judgedPipe(demanded.intersect(pipe), testimonies);
  const rest = pipe.subtract(demanded).intervals.map(({ fromMm, toMm }): JudgedStretch => ({ fromMm, toMm, state: 'not-required', late: false, otherwise: null, by: [] }));
  return { key, testimonies, stretches: [...due, ...rest].sort((a, b) => a.fromMm - b.fromMm) };
}

/** Stretches, which come in order of footage and apart from each other, within an interval; those that lie in it are the same objects. Cost O(log n + found). */
export function withinInterval<S extends Interval>(stretches: readonly S[], { fromMm, toMm }: Interval): S[] {
  const found: S[] = [];
  for (let index = firstEndingAfter(stretches, fromMm); index < stretches.length; index += 1) {
    const one = stretches[index] as S;
    if (one.fromMm >= toMm) break;
    const isInside = one.fromMm >= fromMm && one.toMm <= toMm;
    found.push(isInside ? one : { ...one, fromMm: Math.max(one.fromMm, fromMm), toMm: Math.min(one.toMm, toMm) });
  }
  return found;
}

function firstEndingAfter(stretches: readonly Interval[], atMm: number): number {
  let [low, high] = [0, stretches.length];
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((stretches[middle] as Interval).toMm > atMm) high = middle;
    else low = middle + 1;
  }
  return low;
}
