import { Injectable } from '@nestjs/common';
import { DetectionsService } from '../detections/detections.service.js';
import { detectionLabel } from '../detections/detection-label.js';
import { examinationLabel } from '../examinations/examination-label.js';
import { ExaminationsService } from '../examinations/examinations.service.js';
import { evaluationLabel } from '../indication-evaluations/indication-evaluation-label.js';
import type { IndicationEvaluation } from '../indication-evaluations/indication-evaluation.entity.js';
import { IndicationEvaluationsService } from '../indication-evaluations/indication-evaluations.service.js';
import { openOfIndication } from '../indication-evaluations/standing-evaluation.js';
import { workOfEvaluation } from '../indication-evaluations/work-of-evaluation.js';
import type { Indication } from '../indications/indication.entity.js';
import { IndicationsService } from '../indications/indications.service.js';
import { CutOutsService } from '../line/cut-outs.service.js';
import { RecordDesk } from '../records/record-desk.js';
import { repairLabel } from '../repairs/repair-label.js';
import { RepairsService } from '../repairs/repairs.service.js';
import { timeLeftAnswer } from '../time-left/time-left.dto.js';
import { TimesLeft } from '../time-left/times-left.service.js';
import { linkTo } from '../trace/record-link.js';
import type { RecordLink } from '../trace/trace.dto.js';
import { WorkStandings } from '../work-standing/work-standings.service.js';
import { shown } from './indication-shown.js';
import type { EvaluationStandingAnswer, IndicationStandingAnswer } from './indication-standing.dto.js';
import { NO_INDICATION, OpenIndications } from './open-indications.service.js';

const CAUTIONS = [
  NO_INDICATION,
  'Whether person and instrument are on record as good for the work that day does not say that its result is right: the evaluation is the responsible person\'s.',
];

/** Where an indication has come to: what was found, what people made of it, and what that rests on. */
@Injectable()
export class IndicationStandings {
  constructor(
    private readonly desk: RecordDesk,
    private readonly indications: IndicationsService,
    private readonly detections: DetectionsService,
    private readonly evaluations: IndicationEvaluationsService,
    private readonly repairs: RepairsService,
    private readonly cutOuts: CutOutsService,
    private readonly examinations: ExaminationsService,
    private readonly times: TimesLeft,
    private readonly standings: WorkStandings,
    private readonly openOnes: OpenIndications,
  ) {}

  /** As known at an instant, or now. Refuses with 404 when there was no such indication. */
  async of(id: string, asKnownAt: string | null): Promise<IndicationStandingAnswer> {
    const row = await this.indications.row(id, asKnownAt);
    const detection = row.detectionId === null ? null : await this.detections.row(row.detectionId, asKnownAt);
    const at = asKnownAt ?? await this.desk.databaseNow();
    const [evaluations, removed, [left], found] = await Promise.all([
      this.evaluations.ofIndications([id], asKnownAt), this.openOnes.removed(row.stringId, asKnownAt), this.times.of(row.stringId, [row], at, asKnownAt),
      detection === null ? null : this.detections.foundFor(detection, id),
    ]);
    if (left === undefined) throw new Error('one place has one time left');
    const own = evaluations.get(id) ?? [];
    return {
      ...shown(row), asKnownAt, open: removed.covers(row.span) ? null : openOfIndication(own),
      detection: detection === null ? null : linkTo('detection', detection, detectionLabel(detection)), found,
      evaluations: await this.evaluated(row, own, asKnownAt), timeLeft: timeLeftAnswer(left), cautions: CAUTIONS,
    };
  }

  private async evaluated(indication: Indication, evaluations: readonly IndicationEvaluation[], asKnownAt: string | null): Promise<EvaluationStandingAnswer[]> {
    const [names, links] = await Promise.all([this.desk.namesOf(evaluations.map(({ doneBy }) => doneBy)), this.linksOf(evaluations, asKnownAt)]);
    return Promise.all(evaluations.map(async (row): Promise<EvaluationStandingAnswer> => {
      const { doneBy, level, relevant, cause, verdict, timeLeft, instrumentId } = row;
      const work = workOfEvaluation(row, indication);
      const moment = await this.standings.momentOf(row, asKnownAt);
      const [instrument = null] = await this.standings.instrumentsOf([{ instrumentId }], moment, asKnownAt);
      return {
        evaluation: linkTo('indication-evaluation', row, evaluationLabel(row)), at: row.observedAt, doneBy, doneByName: names.get(doneBy) ?? doneBy, level, relevant, cause,
        verdict, timeLeft: timeLeftAnswer(timeLeft), links: [row.repairId, row.cutOutId, row.examinationId].flatMap((id) => links.get(id ?? '') ?? []),
        qualified: work === null ? null : await this.standings.person(doneBy, moment, work, asKnownAt), instrument,
      };
    }));
  }

  private async linksOf(evaluations: readonly IndicationEvaluation[], asKnownAt: string | null): Promise<ReadonlyMap<string, RecordLink>> {
    const named = (ids: readonly (string | null)[]): string[] => ids.filter((id) => id !== null);
    const [repairs, cutOuts, examinations] = await Promise.all([
      this.repairs.rowsByIds(named(evaluations.map(({ repairId }) => repairId)), asKnownAt), this.cutOuts.rowsByIds(named(evaluations.map(({ cutOutId }) => cutOutId)), asKnownAt),
      this.examinations.rowsByIds(named(evaluations.map(({ examinationId }) => examinationId)), asKnownAt),
    ]);
    return new Map([
      ...[...repairs.values()].map((row) => [row.id, linkTo('repair', row, repairLabel(row))] as const),
      ...[...cutOuts.values()].map((row) => [row.id, linkTo('cut-out', row, row.cause.slice(0, 200))] as const),
      ...[...examinations.values()].map((row) => [row.id, linkTo('examination', row, examinationLabel(row))] as const),
    ]);
  }
}
