import type { CoilSheetData, CoilTagData, ControlChartReportData, NonconformanceReportData, Paper, RatingChartReportData, StripChartReportData } from '#libs/reports';

/** What a drawing thread is asked for. A tag has a size of its own. */
export type DrawOrder =
  | { readonly report: 'nonconformance'; readonly data: NonconformanceReportData; readonly paper: Paper }
  | { readonly report: 'coil-sheet'; readonly data: CoilSheetData; readonly paper: Paper }
  | { readonly report: 'coil-tag'; readonly data: CoilTagData }
  | { readonly report: 'control-chart'; readonly data: ControlChartReportData; readonly paper: Paper }
  | { readonly report: 'rating-chart'; readonly data: RatingChartReportData; readonly paper: Paper }
  | { readonly report: 'strip-chart'; readonly data: StripChartReportData; readonly paper: Paper };
