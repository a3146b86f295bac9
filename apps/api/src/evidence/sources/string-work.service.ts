import { Injectable } from '@nestjs/common';
import type { RecordVersion } from '#libs/persistence';
import { IndicationEvaluationsService } from '../../indication-evaluations/indication-evaluations.service.js';
import { IndicationsService } from '../../indications/indications.service.js';
import {
  EXAMINATIONS, INDICATION_EVALUATIONS, INDICATIONS, INSPECTIONS, REPAIRS, SEAM_EVENTS, SPLICE_STEPS, STRINGS, WELD_PROCEDURES, WELDS, WELLS, type RecordKind,
} from '../../recall/record-kinds.js';
import { RepairsService } from '../../repairs/repairs.service.js';
import { WeldProceduresService } from '../../weld-procedures/weld-procedures.service.js';
import { GroundRecords } from '../ground-records.service.js';
import { oncePerCount, oncePerGround } from '../once-per-ground.js';
import { oncePerRow } from '../once-per-row.js';
import { inspected, workOnPipe } from './string-work.js';

const OTHERS_REST_ON: readonly RecordKind<RecordVersion>[] = [EXAMINATIONS, WELDS, SPLICE_STEPS, SEAM_EVENTS, REPAIRS, INDICATIONS, INDICATION_EVALUATIONS, WELD_PROCEDURES];

/** The kinds of record that work on pipe, and its local days, are read from. */
export const WORK_RESTS_ON: readonly RecordKind<RecordVersion>[] = [INSPECTIONS, ...OTHERS_REST_ON, STRINGS, WELLS];

/** All work on the pipe of a string. */
@Injectable()
export class StringWork {
  constructor(
    private readonly records: GroundRecords,
    private readonly repairs: RepairsService,
    private readonly indications: IndicationsService,
    private readonly evaluations: IndicationEvaluationsService,
    private readonly procedures: WeldProceduresService,
  ) {}

  /** As known at the ground's instant. */
  readonly of = oncePerGround(async (ground) => {
    const [inspections, others] = await Promise.all([this.records.inspections(ground), this.others(ground)]);
    return [...inspections.map((row) => this.inspected(row, ground, 0)), ...others];
  });

  /** By far the most work. */
  private readonly inspected = oncePerRow(inspected);

  private readonly others = oncePerCount(OTHERS_REST_ON, async (ground) => {
    const { stringId, asKnownAt } = ground;
    const [examinations, welds, steps, events, repairs, indications, evaluated] = await Promise.all([
      this.records.examinations(ground), this.records.welds(ground), this.records.steps(ground), this.records.seamEvents(ground),
      this.repairs.inOrder(stringId, asKnownAt), this.indications.ofString(stringId, asKnownAt), this.evaluations.ofString(stringId, asKnownAt),
    ]);
    const procedureIds = [...welds, ...events, ...repairs].map(({ weldProcedureId }) => weldProcedureId).filter((id) => id !== null);
    const procedures = await this.procedures.rowsByIds(procedureIds, asKnownAt);
    return workOnPipe({
      examinations, welds, steps, events, repairs, evaluations: [...evaluated.values()].flat(), indications: new Map(indications.map((row) => [row.id, row])), procedures,
    }, ground);
  });
}
