import { microseconds } from '#libs/persistence';
import { refusedField } from '../http/problem.js';
import type { Finding } from '../records/plausibility.js';

export interface PeriodAsSaid {
  readonly observedAt: string;
  readonly until?: string | null;
  readonly startFootageMm?: number | null;
  readonly previousEndReading?: string | null;
}

/** Refuses a period with no start, two starts, or an end that is not after its beginning. */
export function refuseHalfSaidPeriod({ observedAt, until, startFootageMm, previousEndReading }: PeriodAsSaid): void {
  if (startFootageMm == null && previousEndReading == null) {
    throw refusedField('no-start', 'startFootageMm', null, 'startFootageMm, or previousEndReading where it continues the period before');
  }
  if (startFootageMm != null && previousEndReading != null) {
    throw refusedField('two-starts', 'previousEndReading', previousEndReading, 'absent beside startFootageMm');
  }
  if (until != null && microseconds(until) <= microseconds(observedAt)) {
    throw refusedField('reversed-time', 'until', until, `after observedAt, ${observedAt}`);
  }
}

/** Beyond this two scales of one counter differ by more than wear does. Common practice, no published source. */
const SCALE_CHANGE = 0.02;

export interface PeriodBefore {
  readonly scaleMmPerCount: number;
  /** The footage its last reading reached, mm; null when it has none. */
  readonly reachedMm: number | null;
}

export interface PeriodFigures {
  readonly scaleMmPerCount: string;
  readonly startFootageMm: string;
  /** The field that gave the start footage. */
  readonly startField: 'startFootageMm' | 'previousEndReading';
}

/** A scale far from the one before, and pipe counted twice because the start lies below the footage reached. */
export function periodFindings(period: PeriodFigures, before: PeriodBefore | null): Finding[] {
  if (before === null) return [];
  const change = Math.abs(Number(period.scaleMmPerCount) / before.scaleMmPerCount - 1);
  const scale: Finding[] = change <= SCALE_CHANGE ? [] : [{
    tier: 'implausible', field: 'scaleMmPerCount', value: period.scaleMmPerCount,
    limit: `usually within 2 % of the scale before, ${before.scaleMmPerCount} mm per count`,
  }];
  const { reachedMm } = before;
  if (reachedMm === null || Number(period.startFootageMm) >= Math.floor(reachedMm)) return scale;
  const start: Finding = {
    tier: 'implausible', field: period.startField, value: period.startFootageMm,
    limit: `usually at least the ${Math.floor(reachedMm)} mm of footage reached before`,
  };
  return [...scale, start];
}
