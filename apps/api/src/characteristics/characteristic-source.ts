import type { Interval } from '#libs/intervals';
import type { Characteristic, ControlChartPlan } from '../control-charts/control-chart-plan.js';
import type { RecordLink } from '../trace/trace.dto.js';
import type { BoundaryKind, ChartGround } from './chart-ground.js';

/** One reading of a characteristic at its place. Of a coil that is no pipe yet the interval is null. */
export interface CharacteristicReading {
  /** Footage, mm, half-open. */
  readonly place: Interval | null;
  /** In the unit of the chart; of counts the count, of gaps the gap in m, of several channels one each. */
  readonly values: readonly number[];
  /** Of counts: of how many items, or of how much pipe; in m, of repairs in 1,000 m. Null of all others. */
  readonly of: number | null;
  /** Null where a reading is of samples of more than one moment. */
  readonly observedAt: string | null;
  readonly records: readonly RecordLink[];
  /** What people call it: the number of a splice, of a coil, of a check. Empty where the place says it all. */
  readonly label: string;
  /** The number of the coil that it is of, where that is known. */
  readonly coil: string | null;
}

/** Pipe or a record that enters no chart, and why. */
export interface LeftOutReading {
  readonly place: Interval | null;
  readonly because: string;
  readonly records: readonly RecordLink[];
}

export interface CharacteristicReadings {
  /** In rising order of footage; those without a place in the order in which they were observed, behind the others. */
  readonly readings: readonly CharacteristicReading[];
  readonly leftOut: readonly LeftOutReading[];
}

/** How readings become points. */
export type Gathering =
  /** Those close together make a subgroup, as the plan says. */
  | 'by place'
  /** They come in whole subgroups, so many as the plan says in a row. */
  | 'in subgroups'
  /** Each is a point. */
  | 'points';

/** Where the readings of one characteristic come from. */
export interface CharacteristicSource {
  readonly characteristic: Characteristic;
  readonly gathering: Gathering;
  /** What no subgroup and no pattern of its points reaches across. */
  readonly brokenBy: readonly BoundaryKind[];
  /** Whether pipe that the plan leaves out is: not where readings are made just there, as of a splice. */
  readonly leavesOut: boolean;
  readings(ground: ChartGround, chart: ControlChartPlan): Promise<CharacteristicReadings>;
}
