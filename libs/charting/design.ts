import type { RunRule } from '#libs/spc';

/** What one point of a chart is made of. */
export type PointFamily =
  /** Two or more readings close together. */
  | 'subgroups'
  /** One reading, or the mean of several. */
  | 'values'
  /** How many of a number of items. */
  | 'shares'
  /** How many in a length. */
  | 'rates'
  /** What lies between two events. */
  | 'gaps'
  /** One reading of each of several channels. */
  | 'vectors';

/** Every chart, and what its points are made of. */
export const CHART_FAMILIES = {
  'mean-range': 'subgroups',
  'mean-deviation': 'subgroups',
  'between-within': 'subgroups',
  individuals: 'values',
  'long-term': 'values',
  'batch-means': 'values',
  residuals: 'values',
  ewma: 'values',
  cusum: 'values',
  p: 'shares',
  np: 'shares',
  'adjusted-p': 'shares',
  c: 'rates',
  u: 'rates',
  'adjusted-u': 'rates',
  t: 'gaps',
  g: 'gaps',
  't-squared': 'vectors',
} as const satisfies Readonly<Record<string, PointFamily>>;

export type ChartKind = keyof typeof CHART_FAMILIES;
export const CHART_KINDS = Object.keys(CHART_FAMILIES) as readonly ChartKind[];

/** How a characteristic is charted. What a chart has no use for is null. */
export interface ChartDesign {
  readonly chart: ChartKind;
  /** Of the chart of places, each chosen by itself; the others signal beyond their limits alone. */
  readonly rules: readonly RunRule[];
  /** EWMA: the weight of the newest value, and half the width of the limits in standard deviations of the average. */
  readonly lambda: number | null;
  readonly width: number | null;
  /** CUSUM: reference value and decision interval, in standard deviations of the values. */
  readonly k: number | null;
  readonly h: number | null;
  /** Batch means: how many points a batch. */
  readonly batchSize: number | null;
  /** T²: the share of false alarms. */
  readonly alpha: number | null;
}
