import type { Interval } from '#libs/intervals';
import type { SeriesPoint } from '#libs/charting';
import type { CharacteristicReading, LeftOutReading } from './characteristic-source.js';
import type { ChartGround } from './chart-ground.js';

/** A point of the row, with the readings that it is made of. */
export interface RowPoint extends SeriesPoint {
  /** From the beginning of its first reading to the end of its last; null where none has a place. */
  readonly place: Interval | null;
  readonly readings: readonly CharacteristicReading[];
  readonly coil: string | null;
  readonly label: string;
}

/** All readings of a chart on some pipe, put together into points, and what was left out. */
export interface ChartRow {
  readonly ground: ChartGround;
  readonly points: readonly RowPoint[];
  readonly leftOut: readonly LeftOutReading[];
}
