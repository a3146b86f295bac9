import { Injectable } from '@nestjs/common';
import type { QualifiedEvent } from '#libs/validity';
import { ExaminationsService } from '../examinations/examinations.service.js';
import { IndicationEvaluationsService } from '../indication-evaluations/indication-evaluations.service.js';
import { workOfEvaluation } from '../indication-evaluations/work-of-evaluation.js';
import { IndicationsService } from '../indications/indications.service.js';
import { InspectionsService } from '../inspections/inspections.service.js';
import { placeOfWeld, placeOnPipe } from '../measured-work/measured-work.service.js';
import type { WorkPlace } from '../measured-work/measured-record.js';
import { EXAMINATIONS, INDICATION_EVALUATIONS, INSPECTIONS, linkOf, REPAIRS, SEAM_EVENTS, SPLICE_STEPS, WELDS } from '../recall/record-kinds.js';
import { RepairsService } from '../repairs/repairs.service.js';
import { SeamEventsService } from '../seam-events/seam-events.service.js';
import { SpliceStepsService } from '../splice-steps/splice-steps.service.js';
import type { RecordLink } from '../trace/trace.dto.js';
import { WeldProceduresService } from '../weld-procedures/weld-procedures.service.js';
import { workOfWeld } from '../weld-checks/work-of-weld.js';
import { WeldsService } from '../welds/welds.service.js';
import { siteMoment } from '../wells/site-time.js';
import { WorkStandings, type Work } from '../work-standing/work-standings.service.js';
import { workOfExamination, workOfInspection, workOfRepair, workOfSeamEvent, workOfStep } from './work.js';

/** Something that a person did, for which a qualification is asked. */
export interface QualifiedWork {
  readonly record: RecordLink;
  readonly place: WorkPlace;
  readonly event: QualifiedEvent;
}

/** A piece of work before it is known when it was at its site. */
interface Done {
  readonly record: RecordLink;
  readonly place: WorkPlace;
  readonly on: { readonly stringId: string; readonly observedAt: string };
  readonly work: Work;
}

/** All that a person did for which a qualification is asked: welded, ran the seam weld, examined, looked at or evaluated. */
@Injectable()
export class WorkOfPeople {
  constructor(
    private readonly welds: WeldsService,
    private readonly events: SeamEventsService,
    private readonly steps: SpliceStepsService,
    private readonly inspections: InspectionsService,
    private readonly repairs: RepairsService,
    private readonly examinations: ExaminationsService,
    private readonly evaluations: IndicationEvaluationsService,
    private readonly indications: IndicationsService,
    private readonly procedures: WeldProceduresService,
    private readonly standings: WorkStandings,
  ) {}

  /** As known at an instant, or now; each part in a record by itself. */
  async of(personId: string, asKnownAt: string | null): Promise<QualifiedWork[]> {
    const done = [...(await this.welded(personId, asKnownAt)), ...(await this.examined(personId, asKnownAt)), ...(await this.evaluated(personId, asKnownAt))];
    const stringIds = [...new Set(done.map(({ on }) => on.stringId))];
    const zones = new Map(await Promise.all(stringIds.map(async (id) => [id, await this.standings.timeZoneOf(id, asKnownAt)] as const)));
    return done.map(({ record, place, on, work }) => ({ record, place, event: { ...siteMoment(zones.get(on.stringId) ?? 'UTC', on.observedAt), ...work } }));
  }

  private async evaluated(personId: string, asKnownAt: string | null): Promise<Done[]> {
    const evaluations = await this.evaluations.doneBy(personId, asKnownAt);
    const indications = await this.indications.rowsByIds(evaluations.map(({ indicationId }) => indicationId), asKnownAt);
    return evaluations.flatMap((row): Done[] => {
      const indication = indications.get(row.indicationId);
      const work = indication === undefined ? null : workOfEvaluation(row, indication);
      return indication === undefined || work === null ? [] : [{ record: linkOf(INDICATION_EVALUATIONS, row), place: placeOnPipe(indication), on: row, work }];
    });
  }

  private async welded(personId: string, asKnownAt: string | null): Promise<Done[]> {
    const [welds, events, repairs] = await Promise.all([this.welds.doneBy(personId, asKnownAt), this.events.doneBy(personId, asKnownAt), this.repairs.doneBy(personId, asKnownAt)]);
    const procedureIds = [...welds, ...events, ...repairs].map(({ weldProcedureId }) => weldProcedureId).filter((id) => id !== null);
    const procedures = await this.procedures.rowsByIds(procedureIds, asKnownAt);
    const processOf = (weldProcedureId: string): { readonly process: string } => procedures.get(weldProcedureId) ?? { process: '' };
    return [
      ...welds.map((weld): Done => ({ record: linkOf(WELDS, weld), place: placeOfWeld(weld), on: weld, work: workOfWeld(weld, processOf(weld.weldProcedureId)) })),
      ...events.flatMap((event) => {
        const { parts } = workOfSeamEvent(event, processOf(event.weldProcedureId).process);
        const of = { record: linkOf(SEAM_EVENTS, event), place: placeOnPipe(event), on: event };
        return partsOf(parts, personId).map((work): Done => ({ ...of, work }));
      }),
      ...repairs.flatMap((repair) => {
        const { parts } = workOfRepair(repair, repair.weldProcedureId === null ? null : processOf(repair.weldProcedureId));
        const of = { record: linkOf(REPAIRS, repair), place: placeOnPipe(repair), on: repair };
        return partsOf(parts, personId).map((work): Done => ({ ...of, work }));
      }),
    ];
  }

  private async examined(personId: string, asKnownAt: string | null): Promise<Done[]> {
    const [steps, inspections, examinations] = await Promise.all([
      this.steps.withPerson(personId, asKnownAt), this.inspections.doneBy(personId, asKnownAt), this.examinations.doneBy(personId, asKnownAt),
    ]);
    return [
      ...steps.flatMap((step) => {
        const { stringId, spliceId } = step;
        const of = { record: linkOf(SPLICE_STEPS, step), place: { on: 'splice', stringId, spliceId } as const, on: step };
        return partsOf(workOfStep(step).parts, personId).map((work): Done => ({ ...of, work }));
      }),
      ...inspections.flatMap((inspection) => {
        const of = { record: linkOf(INSPECTIONS, inspection), place: placeOnPipe(inspection), on: inspection };
        return partsOf(workOfInspection(inspection).parts, personId).map((work): Done => ({ ...of, work }));
      }),
      ...examinations.flatMap((examination) => {
        const of = { record: linkOf(EXAMINATIONS, examination), place: placeOnPipe(examination), on: examination };
        return partsOf(workOfExamination(examination).parts, personId).map((work): Done => ({ ...of, work }));
      }),
    ];
  }
}

/** What the person did of it, as far as a method is on record. */
function partsOf(parts: readonly { readonly personId: string; readonly work: Work | null }[], personId: string): Work[] {
  return parts.flatMap((part) => (part.personId === personId && part.work !== null ? [part.work] : []));
}
