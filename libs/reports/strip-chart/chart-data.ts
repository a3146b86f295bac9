import type { ProofState } from '#libs/reference-checks';
import type { Column } from '#libs/signals';
import type { IntervalMm } from '../instants-and-lengths.js';

/**
 * What a strip chart is drawn of: plain data, so that it can be handed to another thread. Positions are whole millimetres of the
 * axis' quantity and rise from left to right; intervals are half-open. One of no length is a point.
 */
export interface StripChart {
  /** The first is the chart's name. */
  readonly titles: readonly string[];
  readonly axis: ChartAxis;
  /** On the whole pipe. */
  readonly marks: readonly ChartMark<PipeMarkKind>[];
  /** 1 to 12, drawn in this order. */
  readonly tracks: readonly ChartTrack[];
}

export const CHART_QUANTITIES = ['footage', 'outer-wall depth', 'inner-wall depth', 'measured depth'] as const;
export type ChartQuantity = (typeof CHART_QUANTITIES)[number];

export interface ChartAxis {
  readonly quantity: ChartQuantity;
  readonly fromMm: number;
  readonly toMm: number;
  /** Of the depths on the chart; null where neither axis is a depth. */
  readonly depth: ChartDepth | null;
  /** Where the positions rest on something that is not sure, and on what: "past the last tie", "assumed scale". */
  readonly unsure: readonly (IntervalMm & { readonly words: string })[];
  readonly second: SecondAxis | null;
}

export interface ChartDepth {
  /** What depths are measured from. */
  readonly datum: string;
  /** The widest expanded uncertainty (k = 2) on the chart; null when it is not known. */
  readonly uncertaintyMm: number | null;
}

/** The same pipe, or the pipe at the same depth, by another quantity. */
export interface SecondAxis {
  readonly quantity: ChartQuantity;
  /** Straight pieces in rising order of the axis, apart from each other; where there is none, the quantity is not known. */
  readonly pieces: readonly SecondAxisPiece[];
}

/** From `fromMm` to `toMm` of the axis the other quantity goes straight from `startMm` to `endMm`, up or down. */
export interface SecondAxisPiece extends IntervalMm {
  readonly startMm: number;
  readonly endMm: number;
}

/** One channel. */
export interface ChartTrack {
  readonly channel: string;
  /** What it measures, in words. */
  readonly measures: string;
  readonly unit: string;
  /** The level as decimal text, and on which side of it an indication lies. */
  readonly threshold: { readonly level: string; readonly sense: 'above' | 'below' } | null;
  /** Equally wide, from end to end of the axis. */
  readonly columns: readonly Column[];
  /** What is known of the inspection, apart from each other. Where there is none, the chart says so. */
  readonly coverage: readonly (IntervalMm & { readonly state: ChartCoverage })[];
  readonly marks: readonly ChartMark<TrackMarkKind>[];
}

/** From the best to the worst. */
export const CHART_COVERAGES = ['confirmed', 'provisional', 'suspect', 'missing'] as const satisfies readonly ProofState[];
export type ChartCoverage = ProofState;

/**
 * Something at a place. Of one kind the first is labelled first where there is no room for all. One that lies off the axis is
 * not drawn.
 */
export interface ChartMark<Kind> extends IntervalMm {
  readonly kind: Kind;
  /** A number, a time, a reason; may be blank for a check. */
  readonly label: string;
}

/** In order of importance. */
export const PIPE_MARK_KINDS = ['re-join', 'cut-out', 'splice', 'stop', 'reversal', 'set-up change'] as const;
export type PipeMarkKind = (typeof PIPE_MARK_KINDS)[number];

/** In order of importance. The last two are marked where there is no channel to stand with. */
export const HEAD_MARK_KINDS = [...PIPE_MARK_KINDS, 'inspection run', 'check'] as const;
export type HeadMarkKind = (typeof HEAD_MARK_KINDS)[number];

/** In order of importance. */
export const TRACK_MARK_KINDS = ['check-failed', 'indication', 'check-void', 'check-passed', 'not-valid', 'excluded'] as const;
export type TrackMarkKind = (typeof TRACK_MARK_KINDS)[number];
