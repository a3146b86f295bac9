import type { ChartLimits, ChartWarning, LagOne } from '#libs/charting';
import type { Interval } from '#libs/intervals';
import type { ControlChartPlan } from '../control-charts/control-chart-plan.js';
import type { FrozenRecord } from '../releases/frozen-evidence.js';

/** A point that limits were taken from, or without, with its readings. */
export interface StudyPoint {
  /** Footage, mm; null of what has no place on the pipe. */
  readonly fromMm: number | null;
  readonly toMm: number | null;
  readonly label: string;
  readonly coil: string | null;
  readonly values: readonly number[];
  readonly of: number | null;
  readonly beginsAnew: boolean;
  readonly isRemoved: boolean;
  /** The records of its readings, as places in the list of the study. */
  readonly by: readonly number[];
}

/** Readings that entered no point, by the reason. */
export interface LeftOutCount {
  readonly because: string;
  readonly count: number;
}

/** All that limits were found from, and what they came to: enough to find them again without this program. */
export interface ChartStudy {
  readonly chart: FrozenRecord;
  readonly plan: ControlChartPlan;
  /** The pipe that the points are of; null where none has a place. */
  readonly span: Interval | null;
  readonly points: readonly StudyPoint[];
  /** In the versions that counted. */
  readonly records: readonly FrozenRecord[];
  readonly leftOut: readonly LeftOutCount[];
  /** Coils that points which count are of; null where none is known. */
  readonly coils: number | null;
  readonly limits: ChartLimits;
  readonly lagOne: LagOne | null;
  readonly warnings: readonly ChartWarning[];
  /** Charts that would do better, the best first. */
  readonly better: readonly string[];
}

/** The study of stored limits. */
export const thawedStudy = (text: string): ChartStudy => JSON.parse(text) as ChartStudy;
