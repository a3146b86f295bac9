import type { PanelShows, SignalRule } from '#libs/charting';
import type { IntervalMm } from '../instants-and-lengths.js';
import type { ChartAxis, ChartDepth, ChartMark, HeadMarkKind, SecondAxis } from '../strip-chart/chart-data.js';

/**
 * What a control chart is drawn of: plain data, so that it can be handed to another thread. Positions are whole millimetres of the
 * axis' quantity and rise from left to right; intervals are half-open. Of an order they are whole places of it, from 0.
 */
export interface ControlChartPicture {
  /** The first is the chart's name. */
  readonly titles: readonly string[];
  readonly axis: ControlChartAxis;
  /** On the whole pipe; none where the axis is an order. */
  readonly marks: readonly ChartMark<HeadMarkKind>[];
  /** Strip coils from end to end, apart from each other, by number; none where the axis is an order. Those that lie off the axis are not drawn. */
  readonly coils: readonly (IntervalMm & { readonly label: string })[];
  /** 1 to 3, drawn in this order. */
  readonly panels: readonly PicturePanel[];
  /** Pipe that a signal asks to mark, from the last good subgroup on; none where the axis is an order. */
  readonly watch: readonly IntervalMm[];
  /** Numbered from 1 in this order. */
  readonly signals: readonly PictureSignal[];
  /** Which limits, their span and signature; the lag-1 correlation; warnings. Each a sentence or two, of at most 2,000 characters. */
  readonly notes: readonly PictureNote[];
}

/** By pipe, or by the order of the points: of coils that are no pipe yet there is no footage. */
export type ControlChartAxis =
  | (Omit<ChartAxis, 'second'> & { readonly by: 'pipe'; /** None to two: the depths on both walls. */ readonly seconds: readonly DepthAxis[] })
  | { readonly by: 'order'; /** What is in order, in words: "coils as received". */ readonly of: string; /** One for each place of the order, from 0. */ readonly labels: readonly string[] };

/** The depth is null for footage, and for nothing else. */
export type DepthAxis = SecondAxis & { readonly depth: ChartDepth | null };

export interface PicturePanel {
  readonly shows: PanelShows;
  readonly unit: string;
  /** In the order of the row, so that each begins where the one before begins, or further along. */
  readonly points: readonly PicturePoint[];
  /** Digits as printed. Drawn apart from control limits, so that nobody takes the one for the other; null on the panels of spreads. */
  readonly specification: { readonly lower: string | null; readonly upper: string | null } | null;
  /** Rules of zones are chosen, so that lines at 1 and 2 standard errors help. */
  readonly hasZones: boolean;
}

export interface PicturePoint extends IntervalMm {
  readonly value: number;
  readonly centre: number;
  readonly lower: number | null;
  readonly upper: number | null;
  readonly standardError: number | null;
  /** Numbers of the signals at it, as they are listed; empty for none. */
  readonly signals: readonly number[];
  /** Why the limits were taken without it; null where it counts. */
  readonly leftOut: string | null;
  /** No line is drawn from the point before. */
  readonly beginsAnew: boolean;
}

export interface PictureNote {
  readonly text: string;
  /** A warning is set apart. */
  readonly isWarning: boolean;
}

/** A signal as it is listed. */
export interface PictureSignal {
  /** As at the points. */
  readonly number: number;
  /** Shown as its letter. */
  readonly rule: SignalRule;
  /** Which panel, where, what the reaction plan asks for, and what was answered. */
  readonly text: string;
}
