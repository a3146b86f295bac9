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

/** The stretches of a line within an interval. */
export function withinInterval(stretches: readonly JudgedStretch[], { fromMm, toMm }: Interval): JudgedStretch[] {
  return stretches.flatMap((one) => {
    const part = { fromMm: Math.max(one.fromMm, fromMm), toMm: Math.min(one.toMm, toMm) };
    return part.fromMm < part.toMm ? [{ ...one, ...part }] : [];
  });
}
