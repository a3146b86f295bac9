import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { contradictory } from '../http/problem.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { WeldProcedureInput, type WeldListPart, type WeldProcedureContent } from './weld-procedure.dto.js';
import { WeldProcedureVersion } from './weld-procedure.entity.js';
import { procedureFaults } from './weld-procedure.rules.js';

@Injectable()
export class WeldProceduresService extends RecordsService<WeldProcedureVersion, WeldProcedureInput, WeldProcedureContent> {
  readonly kind = 'weld procedure';
  readonly entity = WeldProcedureVersion;
  readonly input = WeldProcedureInput;
  protected override readonly constraints = {
    uq_weld_procedure_revision: { field: 'revision', limit: 'a revision that this procedure does not have yet' },
  };

  constructor(desk: RecordDesk) {
    super(desk);
  }

  protected content(_tx: Transaction, input: WeldProcedureInput): Content<WeldProcedureVersion> {
    const faults = procedureFaults(input);
    if (faults.length > 0) throw contradictory(faults);
    const { number, revision, title, purpose, process, effectiveFrom } = input;
    const { test } = input;
    return {
      number, revision, title, purpose, process, effectiveFrom,
      ranges: input.ranges.map(({ variable, min, max, unit }) => ({ variable, min: min ?? null, max: max ?? null, unit })),
      lists: input.lists.map(({ choice, allowed }) => ({ choice, allowed })),
      test: test == null ? null : { number: test.number, standard: test.standard, testedOn: test.testedOn, examiner: test.examiner },
      heatTreatment: input.heatTreatment ?? null, note: input.note ?? null,
    };
  }

  protected present(row: WeldProcedureVersion): WeldProcedureContent {
    const { number, revision, title, purpose, process, effectiveFrom, ranges, lists, test, heatTreatment, note } = row;
    return { number, revision, title, purpose, process, effectiveFrom, ranges: [...ranges], lists: lists as WeldListPart[], test, heatTreatment, note };
  }
}
