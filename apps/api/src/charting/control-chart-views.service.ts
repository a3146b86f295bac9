import { Injectable } from '@nestjs/common';
import { IntervalSet, type Interval } from '#libs/intervals';
import { ChartLimitsRows } from '../chart-limits/chart-limits-rows.service.js';
import type { ChartLimitsVersion } from '../chart-limits/chart-limits.entity.js';
import { ChartRows } from '../characteristics/chart-rows.service.js';
import type { ControlChart } from '../control-charts/control-chart.entity.js';
import { ControlChartsService } from '../control-charts/control-charts.service.js';
import { notFound } from '../http/problem.js';
import { RecordDesk } from '../records/record-desk.js';
import { isOfReadings, planOf } from './chart-design.js';
import { monitored, type ChartPart, type HeldAgainst } from './chart-part.js';
import { IN_FORCE, TRIAL, type ChartQuestion } from './chart-question.js';
import { ChartTrials } from './chart-trials.service.js';
import { ChartedPipes, type LaidOutPipe } from './charted-pipe.service.js';
import { thawedStudy } from './frozen-study.js';
import { reignsOf } from './standing-limits.js';

/** A chart of some pipe: a part for each of the limits that hold there. */
export interface ControlChartView extends LaidOutPipe {
  readonly chart: ControlChart;
  /** Whose knowledge it is. */
  readonly knownAt: string;
  readonly parts: readonly ChartPart[];
  /** Pipe that no limits hold for: nothing is watched there. */
  readonly withoutLimits: readonly Interval[];
  /** Its readings, which are held against the specification all the same; none where there is no specification. */
  readonly bare: readonly BarePart[];
}

/** Pipe that no limits hold for, with its readings. */
export type BarePart = Pick<ChartPart, 'asked' | 'plan' | 'row'>;

/** Holds the readings of a chart against its limits. */
@Injectable()
export class ControlChartViews {
  constructor(
    private readonly desk: RecordDesk,
    private readonly charts: ControlChartsService,
    private readonly limits: ChartLimitsRows,
    private readonly pipes: ChartedPipes,
    private readonly rows: ChartRows,
    private readonly trials: ChartTrials,
  ) {}

  /** Refuses with 404 when the chart, its string or the limits were not known, and as `ChartedPipes.of` and `ChartTrials.propose`. */
  async of(chartId: string, question: Omit<ChartQuestion, 'paper'>): Promise<ControlChartView> {
    const { pipe, asKnownAt } = question;
    const knownAt = asKnownAt ?? await this.desk.databaseNow();
    const chart = await this.charts.open(chartId, asKnownAt);
    const laidOut = await this.pipes.of(chart.stringId, pipe, asKnownAt);
    const parts = await this.parts(chart, question, laidOut.footage);
    return { ...laidOut, chart, knownAt, parts, ...await this.beside(parts, chart, laidOut.footage, asKnownAt) };
  }

  /** What some parts leave of a footage. */
  async beside(parts: readonly ChartPart[], chart: ControlChart, footage: Interval, asKnownAt: string | null): Promise<Pick<ControlChartView, 'withoutLimits' | 'bare'>> {
    const withoutLimits = IntervalSet.of(footage).subtract(IntervalSet.from(parts.map(({ asked }) => asked))).intervals;
    if (chart.specification === null || !isOfReadings(chart)) return { withoutLimits, bare: [] };
    const plan = planOf(chart);
    const bare: BarePart[] = [];
    for (const asked of withoutLimits) {
      const row = await this.rows.of(plan, { stringId: plan.stringId, interval: asked, asKnownAt });
      // What has no place on the pipe goes with the last of the limits.
      bare.push({ asked, plan, row: parts.length === 0 ? row : { ...row, points: row.points.filter(({ place }) => place !== null) } });
    }
    return { withoutLimits, bare };
  }

  private async parts(chart: ControlChart, { limits, removal, asKnownAt }: Omit<ChartQuestion, 'paper'>, footage: Interval): Promise<ChartPart[]> {
    if (limits === TRIAL) return [await this.trials.part(chart, footage, removal, asKnownAt)];
    const standing = await this.limits.ofChart(chart.id, asKnownAt);
    if (limits === IN_FORCE) return this.inForce(chart, standing, footage, asKnownAt);
    return [await this.against({ chart, standing, limits: await this.ofChart(chart, limits, asKnownAt) }, footage, asKnownAt)];
  }

  /** The parts of a chart against limits of it that stand. What has no place on the pipe goes with the last of them. */
  async inForce(chart: ControlChart, standing: readonly ChartLimitsVersion[], footage: Interval, asKnownAt: string | null): Promise<ChartPart[]> {
    const parts: ChartPart[] = [];
    for (const { limits, during } of reignsOf(standing, footage)) parts.push(await this.against({ chart, standing, limits }, during, asKnownAt));
    return parts.filter(({ row: { points } }, index) => index === parts.length - 1 || points.length === 0 || points.some(({ place }) => place !== null));
  }

  /** Readings of some pipe against limits of a chart, wherever these hold. */
  async against(held: HeldAgainst, asked: Interval, asKnownAt: string | null): Promise<ChartPart> {
    const { limits, chart } = held;
    // Limits are of the plan that they were found by; what is specified is no part of them, and is what the chart says.
    const plan = { ...thawedStudy(limits.study).plan, specification: chart.specification };
    const backToMm = Math.min(limits.appliesFromMm, asked.fromMm);
    // From coil to coil is what this chart is about: its moving ranges go over boundaries.
    const interval = plan.chart === 'between-within' ? { ...asked, fromMm: backToMm } : asked;
    const row = await this.rows.of(plan, { stringId: plan.stringId, interval, backToMm, asKnownAt });
    return monitored(held, plan, row, asked);
  }

  private async ofChart({ id }: ControlChart, limitsId: string, asKnownAt: string | null): Promise<ChartLimitsVersion> {
    const limits = await this.limits.find(limitsId, asKnownAt);
    if (limits?.chartId !== id) throw notFound('chart limits of this chart', limitsId);
    return limits;
  }
}
