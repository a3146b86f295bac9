import { Injectable } from '@nestjs/common';
import { drawControlChartSvg, formatInstant, ReportDataError, type ControlChartPicture, type ControlChartReportData } from '#libs/reports';
import { ChartReactionsService } from '../chart-reactions/chart-reactions.service.js';
import { Refused } from '../http/problem.js';
import { RecordDesk } from '../records/record-desk.js';
import { digestOf } from '../records/write-request.js';
import { ReportPress } from '../reports/report-press.js';
import { WellsService } from '../wells/wells.service.js';
import { AnsweredSignals } from './answered-signals.js';
import { viewAnswer } from './chart-answers.js';
import { chartCsv } from './chart-csv.js';
import { pictureOf } from './chart-picture.js';
import type { ChartQuestion } from './chart-question.js';
import type { ControlChartViewAnswer } from './control-chart-view.dto.js';
import { ControlChartViews, type ControlChartView } from './control-chart-views.service.js';

/** A chart as an answer, a picture, a paper or a table. All refuse as `ControlChartViews.of`. */
@Injectable()
export class ControlChartAnswers {
  constructor(
    private readonly desk: RecordDesk,
    private readonly views: ControlChartViews,
    private readonly reactions: ChartReactionsService,
    private readonly wells: WellsService,
    private readonly press: ReportPress,
  ) {}

  async of(chartId: string, question: ChartQuestion): Promise<ControlChartViewAnswer> {
    const view = await this.views.of(chartId, question);
    return viewAnswer(view, await this.answered(view, question));
  }

  async csv(chartId: string, question: ChartQuestion): Promise<Iterable<string>> {
    return chartCsv(await this.of(chartId, question));
  }

  /** Refuses with 422 where there is nothing to draw, or too much. */
  async svg(chartId: string, question: ChartQuestion): Promise<string> {
    const { picture } = await this.drawn(chartId, question);
    try {
      return drawControlChartSvg(picture);
    } catch (error) {
      if (error instanceof ReportDataError) throw new Refused(422, 'not-drawn', `The chart cannot be drawn: ${error.message}.`);
      throw error;
    }
  }

  /** Refuses as `svg`, and as the press does. */
  async pdf(chartId: string, question: ChartQuestion): Promise<Uint8Array> {
    const { view: { model, knownAt }, well, picture } = await this.drawn(chartId, question);
    const content = { well, string: model.string.name, revision: `as known at ${formatInstant(knownAt)}`, picture };
    const data: ControlChartReportData = { ...content, dataCutOff: knownAt, generatedAt: await this.desk.databaseNow(), fingerprintSha256: digestOf(content) };
    return this.press.draw({ report: 'control-chart', data, paper: question.paper });
  }

  private async drawn(chartId: string, question: ChartQuestion): Promise<{ readonly view: ControlChartView; readonly well: string; readonly picture: ControlChartPicture }> {
    const view = await this.views.of(chartId, question);
    const well = await this.wells.row(view.model.string.wellId, question.asKnownAt);
    const picture = pictureOf(view, well.datum, await this.answered(view, question));
    if (picture === null) throw new Refused(422, 'nothing-to-draw', 'No limits hold for any of this pipe: there is nothing to draw. Ask with limits=trial.');
    return { view, well: well.name, picture };
  }

  private async answered({ chart, model }: ControlChartView, { asKnownAt }: ChartQuestion): Promise<AnsweredSignals> {
    return new AnsweredSignals(await this.reactions.ofChart(chart.id, asKnownAt), model);
  }
}
