export type { DrawnMark, Paper } from './canvas.js';
export { NONCONFORMANCE_CAUTIONS } from './cautions.js';
export { ReportDataError } from './check-report-data.js';
export { collectBytes } from './collect-bytes.js';
export { formatInstant, formatInterval, formatMetres, formatUncertainty, type IntervalMm } from './instants-and-lengths.js';
export type * from './nonconformance-data.js';
export { nonconformanceReport, type NonconformanceReportOptions } from './nonconformance-report.js';
export { ReportTooLongError } from './page-frame.js';
