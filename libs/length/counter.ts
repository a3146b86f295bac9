/**
 * Counter to footage: within a counter period F = F0 + s (c − c0), where F is the footage at the weld point.
 * A reset, a replacement and a recalibration each start a new period.
 */
import type { RecordRef } from '#libs/explanation';
import { LengthError } from './length-error.js';

export interface CounterPeriod {
  record: RecordRef;
  startReading: number;
  startFootageMm: number;
  scaleMmPerCount: number;
  /** Relative standard uncertainty of the scale. */
  scaleRelativeU: number;
}

/** Where a period starts: at a footage that was established, or where the period before it ended. */
export type PeriodStart =
  | { kind: 'established'; footageMm: number }
  | { kind: 'continues'; previousEndReading: number };

/** A counter period as it was recorded, its start footage perhaps still to be derived. */
export interface RecordedCounterPeriod extends Omit<CounterPeriod, 'startFootageMm'> {
  start: PeriodStart;
}

/** Footage at the weld point (mm, unrounded) when the counter says `reading`. */
export function footageAtReading(period: CounterPeriod, reading: number): number {
  return period.startFootageMm + period.scaleMmPerCount * (reading - period.startReading);
}

/** What the counter says when `footageMm` is at the weld point. */
export function readingAtFootage(period: CounterPeriod, footageMm: number): number {
  return period.startReading + (footageMm - period.startFootageMm) / period.scaleMmPerCount;
}

/**
 * Derives the start footage of each period, in order of time. A period that continues starts at the footage that its
 * predecessor reached, so a correction of a scale or a start moves every later period that rests on it.
 * @throws LengthError 'bad-input' when the first period continues nothing, or a scale is zero or not finite
 */
export function chainPeriods(periods: readonly RecordedCounterPeriod[]): CounterPeriod[] {
  const chained: CounterPeriod[] = [];
  for (const { start, ...period } of periods) {
    if (!Number.isFinite(period.scaleMmPerCount) || period.scaleMmPerCount === 0) {
      throw new LengthError('bad-input', `counter period ${period.record.id} has a scale of ${period.scaleMmPerCount} mm per count`);
    }
    chained.push({ ...period, startFootageMm: startFootage(start, chained.at(-1), period.record) });
  }
  return chained;
}

function startFootage(start: PeriodStart, previous: CounterPeriod | undefined, record: RecordRef): number {
  if (start.kind === 'established') return start.footageMm;
  if (previous === undefined) {
    throw new LengthError('bad-input', `counter period ${record.id} continues an earlier one, but none is recorded before it`);
  }
  return footageAtReading(previous, start.previousEndReading);
}
