import type { RunRule } from '#libs/spc';
import type { ChartDesign, ChartKind } from './design.js';
import type { SeriesPoint } from './series.js';

/** A design with nothing but its chart and, where it takes rules, the points beyond three standard deviations. */
export const design = (chart: ChartKind, changes: Partial<ChartDesign> = {}): ChartDesign => ({
  chart, rules: ['oneBeyond3Sigma'] satisfies RunRule[], lambda: null, width: null, k: null, h: null, batchSize: null, alpha: null, ...changes,
});

/** A row of points; those named, from 0, begin anew. */
export const row = (points: readonly (number | readonly number[])[], begins: readonly number[] = []): SeriesPoint[] =>
  points.map((values, index) => ({ values: typeof values === 'number' ? [values] : values, of: null, beginsAnew: begins.includes(index) }));

export const counts = (points: readonly (readonly [count: number, of: number])[], begins: readonly number[] = []): SeriesPoint[] =>
  points.map(([count, of], index) => ({ values: [count], of, beginsAnew: begins.includes(index) }));

/** Values that follow from each other with this autocorrelation, of standard deviation 1 about 0. */
export function correlatedValues(normal: () => number, phi: number, count: number): number[] {
  let value = normal();
  return Array.from({ length: count }, (_, index) => {
    if (index > 0) value = phi * value + Math.sqrt(1 - phi * phi) * normal();
    return value;
  });
}
