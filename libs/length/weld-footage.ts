/**
 * Footage at the weld point at any time, from the readings around it.
 * Between two readings: linear, with the standard uncertainty |F2 − F1| / √12 of a rectangular distribution over the
 * whole step (GUM, JCGM 100:2008, 4.3.7), since the line may have run at any time in between.
 */
import { lastIndexWhere } from './last-index-where.js';
import { LengthError } from './length-error.js';
import type { WeldFootage } from './string-lengths.js';

export type WeldFootageBasis = 'at a reading' | 'between readings' | 'after the last reading';

export interface WeldFootageFigure {
  /** Unrounded. */
  footageMm: number;
  /** Standard uncertainty from reading at other times; 0 at a reading. */
  uMm: number;
  basis: WeldFootageBasis;
  /** The one or two readings it rests on. */
  readings: readonly WeldFootage[];
}

export class WeldFootages {
  private readonly greatestMm: readonly number[];

  /** @throws LengthError 'bad-input' unless the readings are sorted by time */
  constructor(private readonly readings: readonly WeldFootage[]) {
    let greatestMm = -Infinity;
    this.greatestMm = readings.map(({ footageMm, atUs }, index) => {
      if (atUs < (readings[index - 1]?.atUs ?? -Infinity)) {
        throw new LengthError('bad-input', 'the footage readings are not sorted by time');
      }
      return (greatestMm = Math.max(greatestMm, footageMm));
    });
  }

  /** @throws LengthError 'no-readings' or 'before-the-first-reading' */
  at(atUs: number): WeldFootageFigure {
    const before = this.lastReadingBy(atUs);
    const after = this.readings[before.index + 1];
    const { reading } = before;
    if (atUs === reading.atUs) return { footageMm: reading.footageMm, uMm: 0, basis: 'at a reading', readings: [reading] };
    if (after === undefined) {
      return { footageMm: reading.footageMm, uMm: 0, basis: 'after the last reading', readings: [reading] };
    }
    const stepMm = after.footageMm - reading.footageMm;
    return {
      footageMm: reading.footageMm + stepMm * ((atUs - reading.atUs) / (after.atUs - reading.atUs)),
      uMm: Math.abs(stepMm) / Math.sqrt(12),
      basis: 'between readings',
      readings: [reading, after],
    };
  }

  /**
   * Pipe made by then (mm, unrounded): the greatest footage reached, which a reversal of the line does not take back.
   * @throws LengthError as `at`
   */
  maxAt(atUs: number): number {
    const { index } = this.lastReadingBy(atUs);
    return Math.max(this.greatestMm[index] ?? -Infinity, this.at(atUs).footageMm);
  }

  private lastReadingBy(atUs: number): { index: number; reading: WeldFootage } {
    const index = lastIndexWhere(this.readings, (candidate) => candidate.atUs <= atUs);
    const reading = this.readings[index];
    if (reading !== undefined) return { index, reading };
    const [first] = this.readings;
    if (first === undefined) throw new LengthError('no-readings', 'this string has no footage reading');
    throw new LengthError('before-the-first-reading', `the first footage reading is at ${first.atUs} µs, after ${atUs} µs`);
  }
}
