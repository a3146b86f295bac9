import { Injectable } from '@nestjs/common';
import { examinationLabel } from '../examinations/examination-label.js';
import { ExaminationsService } from '../examinations/examinations.service.js';
import { InspectionsService } from '../inspections/inspections.service.js';
import type { PlacedMoment } from '../qualified/moment-parameter.js';
import type { Finding } from '../records/plausibility.js';
import type { Repair } from '../repairs/repair.entity.js';
import { repairLabel } from '../repairs/repair-label.js';
import { repairWeldFindings } from '../repairs/repair.rules.js';
import { RepairsService } from '../repairs/repairs.service.js';
import { otherPurpose, seamEventFindings } from '../seam-events/seam-event.rules.js';
import { SeamEventsService } from '../seam-events/seam-events.service.js';
import type { SeamEvent } from '../seam-events/seam-event.entity.js';
import { stepLabel } from '../splice-steps/splice-step-label.js';
import type { SpliceStep } from '../splice-steps/splice-step.entity.js';
import { SpliceStepsService } from '../splice-steps/splice-steps.service.js';
import { linkTo } from '../trace/record-link.js';
import type { WeldProcedureVersion } from '../weld-procedures/weld-procedure.entity.js';
import { weldProcedureOf } from '../weld-procedures/weld-procedure.rules.js';
import { WeldProceduresService } from '../weld-procedures/weld-procedures.service.js';
import { instrumentsOpen, personOpen, procedureOpen } from '../work-standing/open-points.js';
import { WorkStandings } from '../work-standing/work-standings.service.js';
import type { ExaminationCheckAnswer, InspectionCheckAnswer, RepairCheckAnswer, SeamEventCheckAnswer, SpliceStepCheckAnswer, WorkCheckPart, WorkPersonAnswer } from './work-check.dto.js';
import { workOfExamination, workOfInspection, workOfRepair, workOfSeamEvent, workOfStep, type PartInWork, type WorkDone, type WorkOpen } from './work.js';

const CAUTION =
  'It shows whether people and instruments are on record as good for the work that day, not whether its result is right; records only: '
  + 'who may examine, weld or inspect is for the level 3 or the welding coordinator to decide.';

/** What steps of splices, seam events, inspections, examinations and repairs rest on: people and instruments, on the day of the work. */
@Injectable()
export class WorkChecks {
  constructor(
    private readonly steps: SpliceStepsService,
    private readonly events: SeamEventsService,
    private readonly inspections: InspectionsService,
    private readonly repairs: RepairsService,
    private readonly examinations: ExaminationsService,
    private readonly procedures: WeldProceduresService,
    private readonly standings: WorkStandings,
  ) {}

  /** Of a step of a splice, by what was known at the instant asked about. Refuses with 404 when there was none. */
  async ofStep(stepId: string, asKnownAt: string | null): Promise<SpliceStepCheckAnswer> {
    return this.ofStepRow(await this.steps.row(stepId, asKnownAt), asKnownAt);
  }

  /** The same of a step that was read already. */
  async ofStepRow(step: SpliceStep, asKnownAt: string | null): Promise<SpliceStepCheckAnswer> {
    const moment = await this.standings.momentOf(step, asKnownAt);
    return { step: linkTo('splice-step', step, stepLabel(step)), ...(await this.checked(workOfStep(step), moment, asKnownAt)) };
  }

  /** Of a seam event. Refuses with 404 when there was none. */
  async ofSeamEvent(eventId: string, asKnownAt: string | null): Promise<SeamEventCheckAnswer> {
    const event = await this.events.row(eventId, asKnownAt);
    const procedure = await this.procedures.row(event.weldProcedureId, asKnownAt);
    const moment = await this.standings.momentOf(event, asKnownAt);
    const work = workOfSeamEvent(event, procedure.process);
    const open = procedureOfEventOpen(event, procedure, moment);
    return {
      event: linkTo('seam-event', event, `${event.event} at ${event.span.fromMm} mm`), procedure: linkTo('weld-procedure', procedure, weldProcedureOf(procedure).name),
      ...(await this.checked({ ...work, open }, moment, asKnownAt)),
    };
  }

  /** Of an inspection. Refuses with 404 when there was none. */
  async ofInspection(inspectionId: string, asKnownAt: string | null): Promise<InspectionCheckAnswer> {
    const inspection = await this.inspections.row(inspectionId, asKnownAt);
    const moment = await this.standings.momentOf(inspection, asKnownAt);
    return {
      inspection: linkTo('inspection', inspection, `${inspection.kind}: ${inspection.characteristic}`),
      ...(await this.checked(workOfInspection(inspection), moment, asKnownAt)),
    };
  }

  /** Of an examination. Refuses with 404 when there was none. */
  async ofExamination(examinationId: string, asKnownAt: string | null): Promise<ExaminationCheckAnswer> {
    const examination = await this.examinations.row(examinationId, asKnownAt);
    const moment = await this.standings.momentOf(examination, asKnownAt);
    return {
      examination: linkTo('examination', examination, examinationLabel(examination)),
      ...(await this.checked(workOfExamination(examination), moment, asKnownAt)),
    };
  }

  /** Of a repair. Refuses with 404 when there was none. */
  async ofRepair(repairId: string, asKnownAt: string | null): Promise<RepairCheckAnswer> {
    const repair = await this.repairs.row(repairId, asKnownAt);
    const procedure = repair.weldProcedureId === null ? null : await this.procedures.row(repair.weldProcedureId, asKnownAt);
    const moment = await this.standings.momentOf(repair, asKnownAt);
    const open = procedure === null ? [] : procedureOfRepairOpen(repair, procedure, moment);
    return {
      repair: linkTo('repair', repair, repairLabel(repair)),
      procedure: procedure === null ? null : linkTo('weld-procedure', procedure, weldProcedureOf(procedure).name),
      ...(await this.checked({ ...workOfRepair(repair, procedure), open }, moment, asKnownAt)),
    };
  }

  private async checked({ parts, readings, open, remarks }: WorkDone, moment: PlacedMoment, asKnownAt: string | null): Promise<WorkCheckPart> {
    const [persons, instruments] = await Promise.all([
      Promise.all(parts.map((part) => this.personAnswer(part, moment, asKnownAt))), this.standings.instrumentsOf(readings, moment, asKnownAt),
    ]);
    const all: WorkOpen[] = [
      ...open, ...persons.flatMap(({ did, standing }) => (standing === null ? [] : personOpen('person', { ...standing, because: `${did}: ${standing.because}` }))),
      ...instrumentsOpen(readings, instruments),
    ];
    return { persons, instruments, isProved: all.length === 0, open: all, remarks: [...remarks], caution: CAUTION };
  }

  private async personAnswer({ work, role, did, personId, isNamed }: PartInWork, moment: PlacedMoment, asKnownAt: string | null): Promise<WorkPersonAnswer> {
    const standing = work === null ? null : await this.standings.person(personId, moment, work, asKnownAt);
    return { role, did, personId, isNamed, standing };
  }
}

/** What of the procedure is open for an event: its own standing, another purpose, and readings outside it or not reported. */
function procedureOfEventOpen({ event, readings }: SeamEvent, procedure: WeldProcedureVersion, moment: PlacedMoment): WorkOpen[] {
  const findings = [...otherPurpose(procedure), ...seamEventFindings(event, readings, weldProcedureOf(procedure))];
  return [...procedureOpen(moment, procedure), ...outsideIt(findings)];
}

/** The same of a repair that was welded. */
function procedureOfRepairOpen(repair: Repair, procedure: WeldProcedureVersion, moment: PlacedMoment): WorkOpen[] {
  return [...procedureOpen(moment, procedure), ...outsideIt(repairWeldFindings(repair, weldProcedureOf(procedure), procedure.purpose))];
}

/** What is only unusual was confirmed when it was entered. */
function outsideIt(findings: readonly Finding[]): WorkOpen[] {
  return findings.filter(({ tier }) => tier !== 'implausible').map(({ field, value, limit }) => ({ about: 'procedure', words: `${field} is ${value}; asked for: ${limit}` }));
}
