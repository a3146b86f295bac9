import { Injectable } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import type { Transaction } from '#libs/persistence';
import { ExaminationsService } from '../examinations/examinations.service.js';
import { contradictory, refusedField, together } from '../http/problem.js';
import { IndicationsService } from '../indications/indications.service.js';
import { InstrumentsService } from '../instruments/instruments.service.js';
import { CutOutsService } from '../line/cut-outs.service.js';
import type { PlacedVersion } from '../line/placed.entity.js';
import type { Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { liesElsewhere } from '../repairs/repair.rules.js';
import { RepairsService } from '../repairs/repairs.service.js';
import { CasingStringsService } from '../strings/casing-strings.service.js';
import { timeLeftAnswer } from '../time-left/time-left.dto.js';
import type { TimeLeft } from '../time-left/time-left.js';
import { TimesLeft } from '../time-left/times-left.service.js';
import { IndicationEvaluationInput, type IndicationEvaluationContent } from './indication-evaluation.dto.js';
import { IndicationEvaluation } from './indication-evaluation.entity.js';
import { evaluationFaults, evaluationFindings, takenFor } from './indication-evaluation.rules.js';

const STAYS = { field: 'indicationId', limit: 'the indication that it is of', code: 'other-indication' };

@Injectable()
export class IndicationEvaluationsService extends RecordsService<IndicationEvaluation, IndicationEvaluationInput, IndicationEvaluationContent> {
  readonly kind = 'indication evaluation';
  readonly entity = IndicationEvaluation;
  readonly input = IndicationEvaluationInput;
  protected override readonly filters = {
    stringId: 'string_id', indicationId: 'indication_id', instrumentId: 'instrument_id', repairId: 'repair_id', cutOutId: 'cut_out_id', examinationId: 'examination_id',
  };
  protected override readonly constraints = { ck_indication_evaluation_stays: STAYS };

  constructor(
    desk: RecordDesk,
    private readonly strings: CasingStringsService,
    private readonly indications: IndicationsService,
    private readonly repairs: RepairsService,
    private readonly cutOuts: CutOutsService,
    private readonly examinations: ExaminationsService,
    private readonly instruments: InstrumentsService,
    private readonly times: TimesLeft,
  ) {
    super(desk);
  }

  /** Those of some indications that stand, as known at `asKnownAt`, by indication and by when they were made; none for those without any. */
  async ofIndications(ids: readonly string[], asKnownAt: string | null, manager?: EntityManager): Promise<ReadonlyMap<string, IndicationEvaluation[]>> {
    if (ids.length === 0) return new Map();
    return byIndication(await this.desk.store.select(
      this.entity, "indication_id = any($1::uuid[]) and state = 'active'", [ids], asKnownAt, 'order by observed_at, entered_at, id', manager,
    ));
  }

  /** The same of all indications of a string. */
  async ofString(stringId: string, asKnownAt: string | null): Promise<ReadonlyMap<string, IndicationEvaluation[]>> {
    return byIndication(await this.desk.store.select(this.entity, "string_id = $1 and state = 'active'", [stringId], asKnownAt, 'order by observed_at, entered_at, id'));
  }

  /** Those made with one of some instruments, known at `asKnownAt`, by when they were made. */
  async withInstruments(instrumentIds: readonly string[], asKnownAt: string | null): Promise<IndicationEvaluation[]> {
    return this.desk.store.select(this.entity, "instrument_id = any($1::uuid[]) and state = 'active'", [instrumentIds], asKnownAt, 'order by observed_at, id');
  }

  protected async content(tx: Transaction, input: IndicationEvaluationInput, current: IndicationEvaluation | null): Promise<Content<IndicationEvaluation>> {
    const faults = evaluationFaults(input);
    if (faults.length > 0) throw contradictory(faults);
    const { stringId, indicationId, repairId, cutOutId, examinationId, instrumentId } = input;
    if (current !== null && current.indicationId !== indicationId) throw refusedField(STAYS.code, STAYS.field, indicationId, `stays ${current.indicationId}`);
    const ifAny = async (kind: RepairsService | CutOutsService | ExaminationsService, field: string, id: string | null | undefined): Promise<unknown> =>
      (id == null ? null : kind.namedOnString(tx, field, id, stringId));
    const [, indication] = await together([
      this.strings.named(tx, 'stringId', stringId), this.indications.namedOnString(tx, 'indicationId', indicationId, stringId),
      ifAny(this.repairs, 'repairId', repairId), ifAny(this.cutOuts, 'cutOutId', cutOutId), ifAny(this.examinations, 'examinationId', examinationId),
      this.instruments.namedIfAny(tx, 'instrumentId', instrumentId),
    ]);
    const timeLeft = current?.timeLeft ?? await this.timeLeftOf(indication, input.observedAt);
    return {
      stringId, indicationId, relevant: input.relevant, cause: input.cause ?? null, causeWords: input.causeWords ?? null, method: input.method ?? null,
      technique: input.technique ?? null, instrumentId: instrumentId ?? null, measuredDepthMm: input.measuredDepthMm ?? null, measuredLengthMm: input.measuredLengthMm ?? null,
      remainingWallMm: input.remainingWallMm ?? null, limitText: input.limitText ?? null, limitMinWallMm: input.limitMinWallMm ?? null, limitMaxDepthMm: input.limitMaxDepthMm ?? null,
      verdict: input.verdict, level: input.level, repairId: repairId ?? null, cutOutId: cutOutId ?? null, examinationId: examinationId ?? null, timeLeft, note: input.note ?? null,
    };
  }

  protected override async findings({ observedAt }: IndicationEvaluationInput, content: Content<IndicationEvaluation>, tx: Transaction): Promise<readonly Finding[]> {
    const { stringId, indicationId, repairId, cutOutId, examinationId, timeLeft } = content;
    const { wallThicknessMm } = await this.strings.named(tx, 'stringId', stringId);
    const { span } = await this.indications.named(tx, 'indicationId', indicationId);
    const elsewhere = (field: string, row: PlacedVersion | null): Finding[] => (row === null ? [] : liesElsewhere(field, row.id, span, row.span));
    return [
      ...evaluationFindings(content, wallThicknessMm), ...takenFor(timeLeft, observedAt),
      ...elsewhere('repairId', await this.repairs.namedIfAny(tx, 'repairId', repairId)), ...elsewhere('cutOutId', await this.cutOuts.namedIfAny(tx, 'cutOutId', cutOutId)),
      ...elsewhere('examinationId', await this.examinations.namedIfAny(tx, 'examinationId', examinationId)),
    ];
  }

  protected present(row: IndicationEvaluation): IndicationEvaluationContent {
    const { stringId, indicationId, relevant, cause, causeWords, method, technique, instrumentId, measuredDepthMm, measuredLengthMm, remainingWallMm } = row;
    const { limitText, limitMinWallMm, limitMaxDepthMm, verdict, level, repairId, cutOutId, examinationId, timeLeft, note } = row;
    return {
      stringId, indicationId, relevant, cause, causeWords, method, technique, instrumentId, measuredDepthMm, measuredLengthMm, remainingWallMm,
      limitText, limitMinWallMm, limitMaxDepthMm, verdict, level, repairId, cutOutId, examinationId, note, timeLeft: timeLeftAnswer(timeLeft),
    };
  }

  private async timeLeftOf(indication: Pick<PlacedVersion, 'stringId' | 'span' | 'fromUMm'>, at: string): Promise<TimeLeft> {
    const [left] = await this.times.of(indication.stringId, [indication], at, null);
    if (left === undefined) throw new Error('one place has one time left');
    return left;
  }
}

function byIndication(rows: readonly IndicationEvaluation[]): Map<string, IndicationEvaluation[]> {
  const found = new Map<string, IndicationEvaluation[]>();
  for (const row of rows) found.set(row.indicationId, [...(found.get(row.indicationId) ?? []), row]);
  return found;
}
