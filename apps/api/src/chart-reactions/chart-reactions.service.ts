import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { thawedStudy } from '../charting/frozen-study.js';
import type { ChartLimitsVersion } from '../chart-limits/chart-limits.entity.js';
import { ChartLimitsRows } from '../chart-limits/chart-limits-rows.service.js';
import { ControlChartsService } from '../control-charts/control-charts.service.js';
import { contradictory, refusedField, together } from '../http/problem.js';
import { InstrumentsService } from '../instruments/instruments.service.js';
import { NonconformancesService } from '../nonconformances/nonconformances.service.js';
import type { Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { CasingStringsService } from '../strings/casing-strings.service.js';
import { ChartReactionInput, type ChartReactionContent } from './chart-reaction.dto.js';
import { ChartReaction } from './chart-reaction.entity.js';
import { answeredSignal, beyondString, reactionFaults, reactionFindings, strangeAnswers } from './chart-reaction.rules.js';

@Injectable()
export class ChartReactionsService extends RecordsService<ChartReaction, ChartReactionInput, ChartReactionContent> {
  readonly kind = 'chart reaction';
  readonly entity = ChartReaction;
  readonly input = ChartReactionInput;
  protected override readonly filters = {
    stringId: 'string_id', chartId: 'chart_id', repeatedWithInstrumentId: 'repeated_with_instrument_id', nonconformanceId: 'nonconformance_id',
  };

  constructor(
    desk: RecordDesk,
    private readonly strings: CasingStringsService,
    private readonly charts: ControlChartsService,
    private readonly limits: ChartLimitsRows,
    private readonly instruments: InstrumentsService,
    private readonly nonconformances: NonconformancesService,
  ) {
    super(desk);
  }

  /** Those to signals of a chart that stand, known at `asKnownAt`, by when they were made. */
  async ofChart(chartId: string, asKnownAt: string | null): Promise<ChartReaction[]> {
    return this.desk.store.select(this.entity, "chart_id = $1 and state = 'active'", [chartId], asKnownAt, 'order by observed_at, id');
  }

  /** The same of all charts of a string. */
  async ofString(stringId: string, asKnownAt: string | null): Promise<ChartReaction[]> {
    return this.desk.store.select(this.entity, "string_id = $1 and state = 'active'", [stringId], asKnownAt, 'order by observed_at, id');
  }

  /** Those whose reading was repeated with one of some instruments, known at `asKnownAt`, by when they were made. */
  async withInstruments(instrumentIds: readonly string[], asKnownAt: string | null): Promise<ChartReaction[]> {
    return this.desk.store.select(this.entity, "repeated_with_instrument_id = any($1::uuid[]) and state = 'active'", [instrumentIds], asKnownAt, 'order by observed_at, id');
  }

  protected async content(tx: Transaction, input: ChartReactionInput): Promise<Content<ChartReaction>> {
    const faults = reactionFaults(input);
    if (faults.length > 0) throw contradictory(faults);
    const { stringId, chartId, limitsId, answers, reading, causesLookedAt, action } = input;
    const [string, , limits] = await together([
      this.strings.named(tx, 'stringId', stringId), this.charts.namedOnString(tx, 'chartId', chartId, stringId), this.limitsOf(tx, chartId, limitsId),
      this.instruments.namedIfAny(tx, 'repeatedWithInstrumentId', input.repeatedWithInstrumentId),
      input.nonconformanceId == null ? null : this.nonconformances.namedOnString(tx, 'nonconformanceId', input.nonconformanceId, stringId),
    ]);
    const beyond = [...beyondString(input, string.footageLimitMm), ...strangeAnswers(input, thawedStudy(limits.study).plan)];
    if (beyond.length > 0) throw contradictory(beyond);
    return {
      stringId, chartId, limitsId, answers: answers.map(answeredSignal), reading, repeatedValue: input.repeatedValue ?? null, repeatedWithInstrumentId: input.repeatedWithInstrumentId ?? null,
      notRepeatedBecause: input.notRepeatedBecause ?? null, watchFromMm: input.watchFromMm ?? null, watchToMm: input.watchToMm ?? null, causesLookedAt, cause: input.cause ?? null, action,
      did: input.did ?? null, nonconformanceId: input.nonconformanceId ?? null, note: input.note ?? null,
    };
  }

  protected override async findings(_input: ChartReactionInput, content: Content<ChartReaction>, tx: Transaction): Promise<readonly Finding[]> {
    const { chartId, limitsId } = content;
    const { specification } = await this.charts.named(tx, 'chartId', chartId);
    return reactionFindings(content, specification, (await this.limitsOf(tx, chartId, limitsId)).state === 'void');
  }

  protected present(row: ChartReaction): ChartReactionContent {
    const { stringId, chartId, limitsId, answers, reading, repeatedValue, repeatedWithInstrumentId, notRepeatedBecause, watchFromMm, watchToMm, causesLookedAt, cause, action, did, nonconformanceId, note } = row;
    return {
      stringId, chartId, limitsId, answers: answers.map((one) => ({ ...one })), reading, repeatedValue, repeatedWithInstrumentId, notRepeatedBecause, watchFromMm, watchToMm,
      causesLookedAt: [...causesLookedAt], cause, action, did, nonconformanceId, note,
    };
  }

  /** Withdrawn ones too: what was done about their signals was done. */
  private async limitsOf(tx: Transaction, chartId: string, limitsId: string): Promise<ChartLimitsVersion> {
    const limits = await this.limits.find(limitsId, null, tx.manager);
    if (limits?.chartId === chartId) return limits;
    throw refusedField('unknown-reference', 'limitsId', limitsId, 'the id of limits of this chart');
  }
}
