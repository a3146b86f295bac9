import { isDeepStrictEqual } from 'node:util';
import { adviceOn, charted, type Advice, type Charted, type ChartDesign, type ChartLimits, type ChartWarning } from '#libs/charting';
import type { Interval } from '#libs/intervals';
import type { ChartRow, RowPoint } from '../characteristics/chart-row.js';
import type { ChartLimitsVersion } from '../chart-limits/chart-limits.entity.js';
import type { ControlChart } from '../control-charts/control-chart.entity.js';
import type { ControlChartPlan } from '../control-charts/control-chart-plan.js';
import { betterChart, type BetterChart } from './better-chart.js';
import { designOf, planOf } from './chart-design.js';
import { inMetres } from './in-metres.js';

/** A stretch of pipe held against limits, or that trial limits are taken from. */
export interface ChartPart {
  /** Null: trial limits, from the points that are shown. */
  readonly limits: ChartLimitsVersion | null;
  /** Footage asked about, mm. */
  readonly asked: Interval;
  readonly plan: ControlChartPlan;
  readonly design: ChartDesign;
  readonly figures: ChartLimits;
  /** From the last boundary before what was asked about, so that patterns are whole. */
  readonly row: ChartRow;
  readonly charted: Charted;
  /** By the places of points in the row: those that limits were taken without. */
  readonly isRemoved: ReadonlySet<number>;
  readonly advice: Advice;
  /** The first of the charts that would do better, drawn from the same points; null where none would, or it cannot be. */
  readonly better: BetterChart | null;
}

/** Limits that readings are held against. */
export interface HeldAgainst {
  readonly limits: ChartLimitsVersion;
  /** The chart as it is known. */
  readonly chart: ControlChart;
  /** All limits of the chart that were not withdrawn. */
  readonly standing: readonly ChartLimitsVersion[];
}

/** Few points matter where limits come from them. */
const OF_TRIALS: ReadonlySet<ChartWarning['code']> = new Set(['few-points', 'few-independent']);

/** A row held against limits that were approved. */
export function monitored(held: HeldAgainst, plan: ControlChartPlan, row: ChartRow, asked: Interval): ChartPart {
  const { limits } = held;
  const design = designOf(plan);
  const advice = adviceOn({ design, limits: limits.limits, series: row.points, coils: null, signalling: 0 });
  const warnings = [...notInForce(held, asked), ...amendedSince(held, plan), ...advice.warnings.filter(({ code }) => !OF_TRIALS.has(code))];
  return {
    limits, asked, plan, design, figures: limits.limits, row, charted: charted(design, limits.limits, row.points), isRemoved: new Set(),
    advice: { ...advice, warnings }, better: betterChart(advice, row.points),
  };
}

/** Limits can be asked for by name where they hold nothing: withdrawn ones, any before the footage that they were approved for, and any from where later ones hold. */
function notInForce({ limits: { state, number, appliesFromMm }, standing }: HeldAgainst, asked: Interval): ChartWarning[] {
  const warning = (text: string): ChartWarning[] => [{ code: 'not-in-force', text }];
  if (state === 'void') return warning(`Limits ${number} were withdrawn: they are in force nowhere.`);
  const later = standing.filter((one) => one.number > number && one.appliesFromMm < asked.toMm).sort((a, b) => a.appliesFromMm - b.appliesFromMm)[0];
  return [
    ...(asked.fromMm < appliesFromMm ? warning(`Limits ${number} are in force from footage ${inMetres(appliesFromMm)} m on: nobody approved them for pipe before it.`) : []),
    ...(later === undefined ? [] : warning(`From footage ${inMetres(later.appliesFromMm)} m on limits ${later.number} are in force, and limits ${number} are no longer.`)),
  ];
}

/** How a chart reads and signals can be amended while limits stand on what it was. What is specified is no part of limits. */
function amendedSince({ limits: { number, chartVersion }, chart }: HeldAgainst, plan: ControlChartPlan): ChartWarning[] {
  const now = planOf(chart);
  const changed = (Object.keys(now) as (keyof ControlChartPlan)[]).filter((key) => key !== 'specification' && !isDeepStrictEqual(now[key], plan[key]));
  return changed.length === 0 ? [] : [{
    code: 'chart-amended', text: `Limits ${number} are of version ${chartVersion} of the chart, whose ${changed.join(', ')} ${changed.length === 1 ? 'was' : 'were'} amended since: this is the chart as it was then, and trial limits show it as it is.`,
  }];
}

/** Whether a point is asked about: some of it lies there. What has no place on the pipe always is. */
export const isAsked = ({ asked }: Pick<ChartPart, 'asked'>, { place }: RowPoint): boolean => place === null || (place.fromMm < asked.toMm && asked.fromMm < place.toMm);
