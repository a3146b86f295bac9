export { CHART_FAMILIES, CHART_KINDS } from './design.js';
export type { ChartDesign, ChartKind, PointFamily } from './design.js';
export type { ChartLimits } from './limits.js';
export { PANEL_SHOWS } from './panel.js';
export type { ChartPanel, ChartSignal, PanelPoint, PanelShows, SignalRule } from './panel.js';
export type { SeriesPoint } from './series.js';
