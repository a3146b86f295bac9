import { IntervalSet } from '#libs/intervals';
import type { Examination } from '../../examinations/examination.entity.js';
import type { IndicationEvaluation } from '../../indication-evaluations/indication-evaluation.entity.js';
import { workOfEvaluation } from '../../indication-evaluations/work-of-evaluation.js';
import type { Indication } from '../../indications/indication.entity.js';
import { inspectionLabel } from '../../inspections/inspection-label.js';
import type { SeenInspection } from '../../inspections/seen-inspection.js';
import { EXAMINATIONS, INDICATION_EVALUATIONS, linkOf, REPAIRS, SEAM_EVENTS, SPLICE_STEPS, WELDS, type RecordKind } from '../../recall/record-kinds.js';
import { jointOf } from '../../rejoins/joint.js';
import { examinationLook, repairOf, type Joints } from '../../reinspections/looks.js';
import type { Repair } from '../../repairs/repair.entity.js';
import type { SeamEvent } from '../../seam-events/seam-event.entity.js';
import type { SpliceStep } from '../../splice-steps/splice-step.entity.js';
import { linkTo } from '../../trace/record-link.js';
import type { RecordLink } from '../../trace/trace.dto.js';
import { workOfWeld } from '../../weld-checks/work-of-weld.js';
import type { WeldProcedureVersion } from '../../weld-procedures/weld-procedure.entity.js';
import type { Weld } from '../../welds/weld.entity.js';
import type { ReadWith } from '../../work-standing/open-points.js';
import type { Work } from '../../work-standing/work-standings.service.js';
import { workOfExamination, workOfInspection, workOfRepair, workOfSeamEvent, workOfStep, type WorkDone } from '../../work-checks/work.js';
import type { EvidenceGround } from '../evidence-ground.js';
import { weldedSince } from './seam-parameters.js';

/** What somebody did of a piece of work; null where the record states no method that a qualification could be held against. */
export interface DoneByPerson {
  readonly personId: string;
  /** False: the record names nobody for it, and who did the whole is taken. */
  readonly isNamed: boolean;
  readonly did: string;
  readonly work: Work | null;
}

/** A piece of work on the pipe of a string: where, when, by whom and with which readings. */
export interface WorkOnPipe {
  readonly record: RecordLink;
  readonly on: IntervalSet;
  readonly observedAt: string;
  readonly enteredAt: string;
  readonly parts: readonly DoneByPerson[];
  readonly readings: readonly ReadWith[];
}

/** The records of work on a string but its inspections, as known at one instant; those withdrawn are not among them. */
export interface WorkRows {
  readonly examinations: readonly Examination[];
  readonly welds: readonly Weld[];
  readonly steps: readonly SpliceStep[];
  /** In the order of `orderOfLine`. */
  readonly events: readonly SeamEvent[];
  readonly repairs: readonly Repair[];
  readonly evaluations: readonly IndicationEvaluation[];
  readonly indications: ReadonlyMap<string, Indication>;
  readonly procedures: ReadonlyMap<string, WeldProcedureVersion>;
}

type Placing = Pick<EvidenceGround, 'pipe' | 'splices' | 'rejoins'> & { readonly model: { readonly records: { readonly cutOuts: readonly { readonly id: string; readonly span: { readonly fromMm: number; readonly toMm: number } }[] } } };

/**
 * The work on record that lies on pipe, but for inspections. A weld or a step is of its whole splice or joint, an evaluation of its indication, a
 * seam event of the pipe welded since, and a stop of the place where it was.
 */
export function workOnPipe(rows: WorkRows, ground: Placing): WorkOnPipe[] {
  const joints = jointsOf(ground);
  const welded = new Map([...joints, ...ground.splices.map(({ id, span }) => [id, IntervalSet.of(span)] as const)]);
  const of = (id: string | null): IntervalSet => welded.get(id ?? '') ?? IntervalSet.empty;
  const procedureOf = (id: string | null): WeldProcedureVersion | null => rows.procedures.get(id ?? '') ?? null;
  return [
    ...rows.examinations.map((row) => piece(EXAMINATIONS, row, examinationLook(row, joints).on, workOfExamination(row))),
    ...rows.welds.map((row) => piece(WELDS, row, of(row.spliceId ?? row.rejoinId), weldDone(row, procedureOf(row.weldProcedureId)))),
    ...rows.steps.map((row) => piece(SPLICE_STEPS, row, of(row.spliceId), workOfStep(row))),
    ...weldedSince(rows.events, ground.pipe.hull()?.toMm ?? 0).map(({ event, on }) =>
      piece(SEAM_EVENTS, event, on.isEmpty ? IntervalSet.of(event.span) : on, workOfSeamEvent(event, procedureOf(event.weldProcedureId)?.process ?? ''))),
    ...rows.repairs.map((row) => piece(REPAIRS, row, repairOf(row, joints).on, workOfRepair(row, procedureOf(row.weldProcedureId)))),
    ...rows.evaluations.flatMap((row) => {
      const indication = rows.indications.get(row.indicationId);
      return indication?.state !== 'active' ? [] : [piece(INDICATION_EVALUATIONS, row, IntervalSet.of(indication.span), evaluationDone(row, indication))];
    }),
  ].filter(({ on }) => !on.isEmpty);
}

/** An inspection as a piece of work. */
export function inspected(row: SeenInspection): WorkOnPipe {
  return made(linkTo('inspection', row, inspectionLabel(row)), row, IntervalSet.of(row.span), workOfInspection(row));
}

function jointsOf({ rejoins, model }: Placing): Joints {
  const spans = new Map(model.records.cutOuts.map(({ id, span }) => [id, span]));
  return new Map(rejoins.flatMap(({ id, cutOutId }) => {
    const span = spans.get(cutOutId);
    return span === undefined ? [] : [[id, jointOf(span)] as const];
  }));
}

type Done = Pick<WorkOnPipe, 'parts' | 'readings'> | Pick<WorkDone, 'parts' | 'readings'>;

function piece<R extends Examination | Weld | SpliceStep | SeamEvent | Repair | IndicationEvaluation>(kind: RecordKind<R>, row: R, on: IntervalSet, done: Done): WorkOnPipe {
  return made(linkOf(kind, row), row, on, done);
}

function made(record: RecordLink, { observedAt, enteredAt }: Pick<WorkOnPipe, 'observedAt' | 'enteredAt'>, on: IntervalSet, { parts, readings }: Done): WorkOnPipe {
  return { record, on, observedAt, enteredAt, parts, readings };
}

function weldDone(row: Weld, procedure: WeldProcedureVersion | null): Done {
  const work = procedure === null ? null : workOfWeld(row, procedure);
  return {
    parts: [{ personId: row.doneBy, isNamed: true, did: `weld, process ${work?.method ?? ''}`, work }],
    readings: row.readings.map(({ instrumentId, variable }, index) => ({ instrumentId, name: `readings[${index}], ${variable}` })),
  };
}

function evaluationDone(row: IndicationEvaluation, indication: Indication): Done {
  const isMeasured = row.measuredDepthMm !== null || row.measuredLengthMm !== null || row.remainingWallMm !== null;
  return {
    parts: [{ personId: row.doneBy, isNamed: true, did: `evaluation of an indication, ${row.verdict}`, work: workOfEvaluation(row, indication) }],
    readings: isMeasured ? [{ instrumentId: row.instrumentId, name: 'what was measured of the indication' }] : [],
  };
}
