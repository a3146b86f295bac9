import { checkInstant, checkPresent, ReportDataError } from '../check-fields.js';
import type { IntervalMm } from '../instants-and-lengths.js';
import type { ChartDepth } from '../strip-chart/chart-data.js';

/** What a profile of pressure ratings against depth is drawn of: plain data. Positions are whole millimetres of measured depth. */
export interface RatingChart {
  /** The first is the chart's name. */
  readonly titles: readonly string[];
  readonly axis: IntervalMm;
  readonly depth: ChartDepth;
  /** As known at this instant. */
  readonly knownAt: string;
  readonly panels: readonly RatingPanel[];
  /** Why something is not computable; steps name them by their place, from 1. */
  readonly reasons: readonly string[];
  readonly cautions: readonly string[];
}

/** One kind of rating of one wall. */
export interface RatingPanel {
  readonly wall: 'outer' | 'inner';
  readonly rating: string;
  /** By rising depth, apart from each other. Where there is none, nothing of this wall was asked about. */
  readonly steps: readonly RatingStep[];
  /** Null where nothing could be rated. */
  readonly weakest: WeakestOnChart | null;
}

export interface RatingStep extends IntervalMm {
  /** Null where it is not computable. */
  readonly pressureMpa: number | null;
  /** Which of the reasons, from 1; null where there is a pressure. */
  readonly reason: number | null;
  /** The rating rests on a λ that no two shoe ties gave. */
  readonly isAssumed: boolean;
}

export interface WeakestOnChart {
  readonly pressureMpa: number;
  readonly tablePsi: string;
  readonly places: readonly IntervalMm[];
  /** What it rests on, in words. */
  readonly restsOn: readonly string[];
}

const PANELS_MAX = 8;
const REASONS_MAX = 500;

/**
 * Refuses a chart that could not be drawn as it is.
 * @throws ReportDataError naming the field: an empty axis, no panels, steps that overlap, a step with neither a pressure nor a reason.
 */
export function checkRatingChart(path: string, { titles, axis, depth, knownAt, panels, reasons }: RatingChart): void {
  checkPresent(`${path}.titles[0]`, titles[0] ?? '');
  checkInstant(`${path}.knownAt`, knownAt);
  checkPresent(`${path}.depth.datum`, depth.datum);
  if (axis.toMm <= axis.fromMm) throw new ReportDataError(`${path}.axis`, 'has no length');
  if (panels.length < 1 || panels.length > PANELS_MAX) throw new ReportDataError(`${path}.panels`, `are not 1 to ${PANELS_MAX}`);
  if (reasons.length > REASONS_MAX) throw new ReportDataError(`${path}.reasons`, `are more than ${REASONS_MAX}`);
  panels.forEach(({ steps }, index) => { checkSteps(`${path}.panels[${index}].steps`, steps, reasons.length); });
}

function checkSteps(path: string, steps: RatingPanel['steps'], reasons: number): void {
  steps.forEach(({ fromMm, toMm, pressureMpa, reason }, index) => {
    if (!Number.isSafeInteger(fromMm) || !Number.isSafeInteger(toMm) || toMm < fromMm) throw new ReportDataError(`${path}[${index}]`, 'is no interval of whole millimetres');
    const before = steps[index - 1];
    if (before !== undefined && before.toMm > fromMm) throw new ReportDataError(path, `has two that overlap at ${fromMm} mm`);
    if (pressureMpa !== null && !Number.isFinite(pressureMpa)) throw new ReportDataError(`${path}[${index}].pressureMpa`, 'is no finite number');
    if ((pressureMpa === null) !== (reason !== null)) throw new ReportDataError(`${path}[${index}]`, 'has neither, or both, of a pressure and a reason');
    if (reason !== null && !(Number.isSafeInteger(reason) && reason >= 1 && reason <= reasons)) throw new ReportDataError(`${path}[${index}].reason`, `is none of ${reasons}`);
  });
}
