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
import { oncePerGround } from '../once-per-ground.js';
import { workOnPipe } from './string-work.js';

/** The kinds of record that work on pipe, and its local days, are read from. */
export const WORK_RESTS_ON: readonly RecordKind<RecordVersion>[] = [
  INSPECTIONS, EXAMINATIONS, WELDS, SPLICE_STEPS, SEAM_EVENTS, REPAIRS, INDICATIONS, INDICATION_EVALUATIONS, WELD_PROCEDURES, STRINGS, WELLS,
];

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
    const { stringId, asKnownAt } = ground;
    const [inspections, examinations, welds, steps, events, repairs, indications, evaluated] = await Promise.all([
      this.records.inspections(ground), this.records.examinations(ground), this.records.welds(ground), this.records.steps(ground), this.records.seamEvents(ground),
      this.repairs.inOrder(stringId, asKnownAt), this.indications.ofString(stringId, asKnownAt), this.evaluations.ofString(stringId, asKnownAt),
    ]);
    const procedureIds = [...welds, ...events, ...repairs].map(({ weldProcedureId }) => weldProcedureId).filter((id) => id !== null);
    const procedures = await this.procedures.rowsByIds(procedureIds, asKnownAt);
    return workOnPipe({
      inspections, examinations, welds, steps, events, repairs, evaluations: [...evaluated.values()].flat(), indications: new Map(indications.map((row) => [row.id, row])), procedures,
    }, ground);
  });
}
