import type { RatingChart, RatingPanel } from './rating-chart-data.js';
import type { RatingChartReportData } from './rating-chart-report.js';

/** Of 100 m: rated, not computable in between, weakest at 60 to 70 m, nothing past 90 m. */
export function ratingPanel(changes: Partial<RatingPanel> = {}): RatingPanel {
  return {
    wall: 'outer', rating: 'Internal yield (Barlow)',
    steps: [
      { fromMm: 0, toMm: 40_000, pressureMpa: 28.9, reason: null, isAssumed: false }, { fromMm: 40_000, toMm: 45_000, pressureMpa: null, reason: 1, isAssumed: false },
      { fromMm: 45_000, toMm: 60_000, pressureMpa: 27.1, reason: null, isAssumed: false }, { fromMm: 60_000, toMm: 70_000, pressureMpa: 24.96, reason: null, isAssumed: true },
      { fromMm: 70_000, toMm: 90_000, pressureMpa: 28.9, reason: null, isAssumed: true },
    ],
    weakest: { pressureMpa: 24.96, tablePsi: '3620', places: [{ fromMm: 60_000, toMm: 70_000 }], restsOn: ['wall thickness 4.6 mm (channel wall-1)'] },
    ...changes,
  };
}

export function ratingChart(changes: Partial<RatingChart> = {}): RatingChart {
  return {
    titles: ['As-built pressure integrity, advisory', 'String S-1, well Sample 1'], axis: { fromMm: 0, toMm: 100_000 }, depth: { datum: 'Top of the guide frame', uncertaintyMm: 448 },
    knownAt: '2031-04-05T00:00:00Z',
    panels: (['outer', 'inner'] as const).flatMap((wall) => ['Internal yield (Barlow)', 'Collapse'].map((rating) => ratingPanel({ wall, rating }))),
    reasons: ['not computable for the outer wall, because no validly read wall thickness is on record for this pipe'],
    cautions: ['Computed ratings are advisory. The responsible engineer decides.'], ...changes,
  };
}

export function ratingChartReportData(changes: Partial<RatingChartReportData> = {}): RatingChartReportData {
  return {
    well: 'Sample 1', string: 'S-1', chart: ratingChart(), dataCutOff: '2031-04-05T00:00:00Z', generatedAt: '2031-04-05T07:08:09Z', fingerprintSha256: '0123456789abcdef'.repeat(4), ...changes,
  };
}
