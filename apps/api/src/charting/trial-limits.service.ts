import { Injectable } from '@nestjs/common';
import { ControlChartsService } from '../control-charts/control-charts.service.js';
import type { ControlChart } from '../control-charts/control-chart.entity.js';
import { LengthModels } from '../line/length-models.service.js';
import { CONTROL_CHARTS, linkOf } from '../recall/record-kinds.js';
import { RecordDesk } from '../records/record-desk.js';
import { AnsweredSignals } from './answered-signals.js';
import { betterAnswer, CHART_CAUTIONS, lagOneAnswer, signalAnswer } from './chart-answers.js';
import type { TrialQuestion } from './chart-question.js';
import { placedSignals } from './chart-signals.js';
import { ChartTrials } from './chart-trials.service.js';
import type { ChartStudy } from './frozen-study.js';
import { inMetres } from './in-metres.js';
import { RecordPlaces } from './record-places.js';
import type { TrialLimitsAnswer } from './trial-limits.dto.js';

const CAUTIONS = [
  'Limits are of the process as it was on this pipe: points with a cause that was found and put right do not belong in them, points without one do.',
  ...CHART_CAUTIONS,
];

/** Says what limits some pipe would give, before anybody signs them. */
@Injectable()
export class TrialLimits {
  constructor(
    private readonly desk: RecordDesk,
    private readonly charts: ControlChartsService,
    private readonly models: LengthModels,
    private readonly trials: ChartTrials,
  ) {}

  /** As known now. Refuses with 404 when there is no such chart, and as `ChartTrials.propose`. */
  async of(chartId: string, { interval, removal }: TrialQuestion): Promise<TrialLimitsAnswer> {
    const chart = await this.charts.open(chartId, null);
    const { study, sha256, part } = await this.trials.propose(chart, interval, removal);
    const view = { model: await this.models.of(chart.stringId, null), knownAt: await this.desk.databaseNow() };
    const none = new AnsweredSignals([], view.model);
    const places = new RecordPlaces();
    return {
      chart: linkOf(CONTROL_CHARTS, chart), footage: { ...interval }, points: study.points.length - part.isRemoved.size, removed: part.isRemoved.size, coils: study.coils, figures: study.limits,
      lagOne: study.lagOne === null ? null : lagOneAnswer(study.lagOne), warnings: study.warnings.map((one) => ({ ...one })), better: part.better === null ? null : betterAnswer(part.better),
      signals: placedSignals(part).map((signal) => signalAnswer(signal, part, view, { reactions: none, places })), statement: limitsStatement(chart, study), records: places.records, studySha256: sha256, study, cautions: CAUTIONS,
    };
  }
}

/** The sentence of a signature under limits. */
export function limitsStatement({ code }: Pick<ControlChart, 'code'>, { span, points, warnings }: ChartStudy): string {
  const counting = points.filter(({ isRemoved }) => !isRemoved).length;
  const from = span === null ? '' : `, footage ${inMetres(span.fromMm)} to ${inMetres(span.toMm)} m,`;
  const without = counting === points.length ? '' : `, without ${points.length - counting} that I removed for the reasons given`;
  const minded = warnings.length === 0 ? '' : `, knowing ${warnings.length === 1 ? 'the warning' : `the ${warnings.length} warnings`}`;
  return `I have examined the points of control chart ${code}${from} and approve the limits from ${counting} of them${without}${minded}.`;
}
