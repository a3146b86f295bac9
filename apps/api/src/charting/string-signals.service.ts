import { Injectable } from '@nestjs/common';
import { ChartLimitsRows } from '../chart-limits/chart-limits-rows.service.js';
import { ChartReactionsService } from '../chart-reactions/chart-reactions.service.js';
import type { ChartLimitsVersion } from '../chart-limits/chart-limits.entity.js';
import type { ControlChart } from '../control-charts/control-chart.entity.js';
import { ControlChartsService } from '../control-charts/control-charts.service.js';
import { madeBy } from '../evidence/evidence-grounds.service.js';
import { LengthModels, type StringModel } from '../line/length-models.service.js';
import { CHART_REACTIONS, CONTROL_CHARTS, linkOf } from '../recall/record-kinds.js';
import { RecordDesk } from '../records/record-desk.js';
import { linkTo } from '../trace/record-link.js';
import { AnsweredSignals } from './answered-signals.js';
import { CHART_CAUTIONS, proposedPipe, signalAnswer } from './chart-answers.js';
import { isAsked, type ChartPart } from './chart-part.js';
import { placedSignals } from './chart-signals.js';
import type { ChartSignalAnswer } from './control-chart-view.dto.js';
import { ControlChartViews } from './control-chart-views.service.js';
import { leftOutOf, leftOutSums } from './left-out-sums.js';
import { RecordPlaces } from './record-places.js';
import { madeUntil } from './since-when.js';
import { takenPlaceOf } from './standing-limits.js';
import type { ChartTasksAnswer, StringSignalsAnswer } from './string-signals.dto.js';

interface Asked {
  readonly model: StringModel;
  readonly knownAt: string;
  readonly asKnownAt: string | null;
  readonly places: RecordPlaces;
}

/** What of a string its charts signal, and nobody has answered. */
@Injectable()
export class StringSignals {
  constructor(
    private readonly desk: RecordDesk,
    private readonly charts: ControlChartsService,
    private readonly limits: ChartLimitsRows,
    private readonly reactions: ChartReactionsService,
    private readonly models: LengthModels,
    private readonly views: ControlChartViews,
  ) {}

  /** As known at an instant, or now. Refuses with 404 when there was no such string. */
  async of(stringId: string, asKnownAt: string | null): Promise<StringSignalsAnswer> {
    const knownAt = asKnownAt ?? await this.desk.databaseNow();
    const model = await this.models.of(stringId, asKnownAt);
    const charts: ChartTasksAnswer[] = [];
    const places = new RecordPlaces();
    // One after the other: each reads all pipe that its limits hold for.
    for (const chart of await this.charts.ofString(stringId, asKnownAt)) charts.push(await this.ofChart(chart, { model, knownAt, asKnownAt, places }));
    return { string: linkTo('casing-string', model.string, model.string.name), knownAt, charts, records: places.records, cautions: CHART_CAUTIONS };
  }

  private async ofChart(chart: ControlChart, asked: Asked): Promise<ChartTasksAnswer> {
    const { model, asKnownAt } = asked;
    const made = { fromMm: 0, toMm: Math.max(1, madeBy(model)) };
    const [limits, rows] = await Promise.all([this.limits.ofChart(chart.id, asKnownAt), this.reactions.ofChart(chart.id, asKnownAt)]);
    const parts = await this.views.inForce(chart, limits, made, asKnownAt);
    const reactions = new AnsweredSignals(rows, model);
    const signals = parts.flatMap((part) => signalsOf(part, asked, reactions));
    const before = (await this.takenPlaceOf(chart, limits, asked)).flatMap((part) => signalsOf(part, asked, reactions));
    const answering = new Set([...signals, ...before].flatMap((signal) => signal.reactions.map(({ id }) => id)));
    const { withoutLimits, bare } = await this.views.beside(parts, chart, made, asKnownAt);
    const waiting = oldestFirst(signals);
    return {
      chart: linkOf(CONTROL_CHARTS, chart), title: chart.title, reaction: { ...chart.reaction, causes: [...chart.reaction.causes] }, waiting, answered: signals.length - waiting.length,
      waitedBefore: oldestFirst(before), reactionsToNothing: rows.filter(({ id }) => !answering.has(id)).map((row) => linkOf(CHART_REACTIONS, row)),
      withoutLimits: withoutLimits.map((one) => ({ ...one })),
      points: parts.reduce((sum, part) => sum + part.row.points.filter((point) => isAsked(part, point)).length, 0), leftOut: leftOutSums(parts.flatMap(leftOutOf)),
      proposesNonconformance: proposedPipe([...parts, ...bare]),
    };
  }

  /** The parts of a chart against limits that later ones took the place of, on pipe that was made by then. */
  private async takenPlaceOf(chart: ControlChart, standing: readonly ChartLimitsVersion[], { model, asKnownAt }: Asked): Promise<ChartPart[]> {
    const parts: ChartPart[] = [];
    for (const limits of standing) {
      for (const pipe of takenPlaceOf(limits, standing, (later) => madeUntil(later.enteredAt, model))) parts.push(await this.views.against({ chart, standing, limits }, pipe, asKnownAt));
    }
    return parts;
  }
}

const signalsOf = (part: ChartPart, { model, knownAt, places }: Asked, reactions: AnsweredSignals): ChartSignalAnswer[] =>
  placedSignals(part).map((signal) => signalAnswer(signal, part, { model, knownAt }, { reactions, places }));

/** Those that nobody answered. */
const oldestFirst = (signals: readonly ChartSignalAnswer[]): ChartSignalAnswer[] =>
  signals.filter(({ reactions }) => reactions.length === 0).sort((a, b) => (a.since ?? '').localeCompare(b.since ?? ''));
