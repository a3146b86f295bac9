import { Injectable } from '@nestjs/common';
import { IntervalSet } from '#libs/intervals';
import type { ChartTasksAnswer } from '../charting/string-signals.dto.js';
import { StringSignals } from '../charting/string-signals.service.js';
import type { ControlChart } from '../control-charts/control-chart.entity.js';
import { ControlChartsService } from '../control-charts/control-charts.service.js';
import { Refused } from '../http/problem.js';
import { CONTROL_CHARTS, linkOf } from '../recall/record-kinds.js';
import { intervalsOf } from '../reinspections/reinspection-answer.js';
import { LONGEST_WORDS, type Found } from './found.js';

/** Signals of control charts that nobody answered, chart by chart. */
@Injectable()
export class WaitingSignals {
  constructor(
    private readonly charts: ControlChartsService,
    private readonly signals: StringSignals,
  ) {}

  /** Where samples are kept outside nobody knows what waits: each chart is told so. */
  async of(stringId: string, asKnownAt: string | null): Promise<Found[]> {
    const rows = await this.charts.ofString(stringId, asKnownAt);
    if (rows.length === 0) return [];
    try {
      const { charts } = await this.signals.of(stringId, asKnownAt);
      return rows.flatMap((row) => waitingOf(row, charts.find(({ chart }) => chart.id === row.id)));
    } catch (error) {
      if (!(error instanceof Refused && error.status === 409)) throw error;
      return rows.map((row) => found(row, `whether signals of it wait is not known: ${error.message}`));
    }
  }
}

function waitingOf(row: ControlChart, tasks: ChartTasksAnswer | undefined): Found[] {
  const waiting = tasks === undefined ? [] : [...tasks.waiting, ...tasks.waitedBefore];
  if (waiting.length === 0) return [];
  const pipe = IntervalSet.from(waiting.flatMap(({ watch }) => watch ?? []));
  const since = waiting.flatMap((signal) => signal.since ?? []).sort()[0];
  const words = `${waiting.length} ${waiting.length === 1 ? 'signal waits' : 'signals wait'} for the reaction of the plan: ${row.reaction.repeat}`;
  return [{ ...found(row, words), footage: intervalsOf(pipe), ...(since === undefined ? {} : { since }) }];
}

const found = (row: ControlChart, words: string): Found => ({ what: 'chart-signals', record: linkOf(CONTROL_CHARTS, row), words: words.slice(0, LONGEST_WORDS), row, footage: [], about: null });
