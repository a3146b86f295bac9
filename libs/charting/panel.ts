import type { RunRule } from '#libs/spc';
import type { ChartKind } from './design.js';

/** What one of the charts that belong together shows. */
export const PANEL_SHOWS = [
  'means', 'ranges', 'deviations', 'moving ranges', 'values', 'batch means', 'residuals', 'weighted averages', 'sums above', 'sums below', 'shares', 'counts', 'rates', 'gaps', 'T²',
] as const;
export type PanelShows = (typeof PANEL_SHOWS)[number];

/** What the panels of a chart show, in order. */
export const PANELS_OF: Readonly<Record<ChartKind, readonly PanelShows[]>> = {
  'mean-range': ['means', 'ranges'], 'mean-deviation': ['means', 'deviations'], 'between-within': ['means', 'moving ranges', 'deviations'], individuals: ['values', 'moving ranges'],
  'long-term': ['values'], 'batch-means': ['batch means', 'moving ranges'], residuals: ['residuals'], ewma: ['weighted averages'], cusum: ['sums above', 'sums below'],
  p: ['shares'], np: ['counts'], c: ['counts'], u: ['rates'], 'adjusted-p': ['shares'], 'adjusted-u': ['rates'], t: ['gaps'], g: ['gaps'], 't-squared': ['T²'],
};

export interface PanelPoint {
  /** The points of the row that it is made of, from 0, both included. */
  readonly from: number;
  readonly to: number;
  readonly value: number;
  readonly centre: number;
  /** Null on a side on which nothing signals. */
  readonly lower: number | null;
  readonly upper: number | null;
  /** Null where limits are by probability. */
  readonly standardError: number | null;
}

/** One chart: points with their limits, in the order of the row. */
export interface ChartPanel {
  readonly shows: PanelShows;
  readonly points: readonly PanelPoint[];
}

/** A run rule, or a point beyond a limit that is no matter of rules. */
export type SignalRule = RunRule | 'beyondLimit';

export interface ChartSignal {
  /** Which panel, from 0. */
  readonly panel: number;
  readonly rule: SignalRule;
  /** The point of the panel at which it signals, from 0. */
  readonly point: number;
  /** The points of the panel that make the pattern, in order, the signalling one last. */
  readonly points: readonly number[];
}
