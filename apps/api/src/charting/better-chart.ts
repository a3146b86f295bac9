import { adviceOn, charted, trialLimits, type Advice, type Charted, type ChartDesign, type ChartLimits, type ChartWarning, type SeriesPoint } from '#libs/charting';

/** Another chart of the same points, with trial limits of its own. */
export interface BetterChart {
  readonly design: ChartDesign;
  readonly figures: ChartLimits;
  readonly charted: Charted;
  /** What is to be minded of it in its turn, but for its coils, which are those of the first chart, and its signals, which it tells. */
  readonly warnings: readonly ChartWarning[];
}

/** The best of the charts that an advice names which these points can be drawn as; null where there is none. */
export function betterChart({ better }: Advice, points: readonly SeriesPoint[]): BetterChart | null {
  for (const design of better) {
    try {
      const figures = trialLimits(design, points);
      const { warnings } = adviceOn({ design, limits: figures, series: points, coils: null, signalling: 0 });
      return { design, figures, charted: charted(design, figures, points, 'trial'), warnings };
    } catch (error) {
      // Too few pairs or batches for this one: the next may do.
      if (!(error instanceof RangeError)) throw error;
    }
  }
  return null;
}
