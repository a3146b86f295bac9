import type { PanelShows } from '#libs/charting';
import type { IntervalMm } from '../instants-and-lengths.js';
import type { ChartAxis, ChartDepth, PipeMarkKind, SecondAxis } from '../strip-chart/chart-data.js';

/**
 * What a control chart is drawn of: plain data, so that it can be handed to another thread. Positions are whole millimetres of the
 * axis' quantity and rise from left to right; intervals are half-open.
 */
export interface ControlChartPicture {
  /** The first is the chart's name. */
  readonly titles: readonly string[];
  readonly axis: ControlChartAxis;
  /** On the whole pipe; none where the axis is an order. */
  readonly marks: readonly (IntervalMm & { readonly kind: PipeMarkKind | 'check'; readonly label: string })[];
  /** Strip coils from end to end, by number; those that lie off the axis are not drawn. */
  readonly coils: readonly (IntervalMm & { readonly label: string })[];
  /** 1 to 3, drawn in this order. */
  readonly panels: readonly PicturePanel[];
  /** Pipe that a signal asks to mark, from the last good subgroup on. */
  readonly watch: readonly IntervalMm[];
  readonly signals: readonly PictureSignal[];
  /** Which limits, their span and signature; the lag-1 correlation; warnings. Each a sentence. */
  readonly notes: readonly PictureNote[];
}

/** By pipe, or by the order of the points: of coils that are no pipe yet there is no footage. Of an order `fromMm` is 0 and `toMm` the number of points, a point a unit. */
export type ControlChartAxis =
  | (Omit<ChartAxis, 'second'> & { readonly by: 'pipe'; /** None to two: the depths on both walls. */ readonly seconds: readonly (SecondAxis & { readonly depth: ChartDepth })[] })
  | { readonly by: 'order'; readonly fromMm: number; readonly toMm: number; /** One for each point. */ readonly labels: readonly string[] };

export interface PicturePanel {
  readonly shows: PanelShows;
  readonly unit: string;
  readonly points: readonly PicturePoint[];
  /** Drawn apart from control limits, so that nobody takes the one for the other; null on the panels of spreads. */
  readonly specification: { readonly lower: number | null; readonly upper: number | null } | null;
  /** Rules of zones are chosen, so that lines at 1 and 2 standard deviations help. */
  readonly hasZones: boolean;
}

export interface PicturePoint extends IntervalMm {
  readonly value: number;
  readonly centre: number;
  readonly lower: number | null;
  readonly upper: number | null;
  readonly standardError: number | null;
  /** Numbers of the signals at it, as the key lists them; empty for none. */
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

/** A signal as the key lists it. */
export interface PictureSignal {
  /** From 1, as at the points. */
  readonly number: number;
  readonly text: string;
}
