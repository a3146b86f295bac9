import { Injectable } from '@nestjs/common';
import { CoilsService } from '../coils/coils.service.js';
import { ExaminationsService } from '../examinations/examinations.service.js';
import { InspectionsService } from '../inspections/inspections.service.js';
import type { SeenInspection } from '../inspections/seen-inspection.js';
import { Reinspections } from '../reinspections/reinspections.service.js';
import { RepairHistories } from '../reinspections/repair-histories.service.js';
import { SeamEventsService } from '../seam-events/seam-events.service.js';
import { SpliceStepsService } from '../splice-steps/splice-steps.service.js';
import { CoilStandings } from '../standing/coil-standings.service.js';
import { WeldsService } from '../welds/welds.service.js';
import { WorkStandings } from '../work-standing/work-standings.service.js';
import { EXAMINATIONS, INSPECTIONS, REPAIRS, SEAM_EVENTS, SPLICE_STEPS, STRINGS, WELDS, WELLS } from '../recall/record-kinds.js';
import type { EvidenceGround } from './evidence-ground.js';
import { oncePerCount, oncePerGround } from './once-per-ground.js';
import { StandingRows } from './standing-rows.js';

/** Records that several sources of evidence rest on, as known at the ground's instant; of each ground they are read once. */
@Injectable()
export class GroundRecords {
  constructor(
    private readonly inspectionRows: InspectionsService,
    private readonly examinationRows: ExaminationsService,
    private readonly weldRows: WeldsService,
    private readonly stepRows: SpliceStepsService,
    private readonly eventRows: SeamEventsService,
    private readonly coils: CoilsService,
    private readonly standings: CoilStandings,
    private readonly histories: RepairHistories,
    private readonly reinspections: Reinspections,
    private readonly works: WorkStandings,
  ) {}

  /** By far the most records of a string. */
  private readonly standingInspections = new StandingRows<SeenInspection>({
    ofString: (stringId) => this.inspectionRows.standingSeenOn(stringId),
    since: (stringId, instant, known) => this.inspectionRows.standingSince(stringId, instant, known),
  });

  /** By footage; of now, those that have not changed are the same objects at every question. */
  readonly inspections = oncePerCount([INSPECTIONS], ({ stringId, asKnownAt }) => (asKnownAt === null ? this.standingInspections.of(stringId) : this.inspectionRows.seenOn(stringId, asKnownAt)));
  /** By footage. */
  readonly examinations = oncePerCount([EXAMINATIONS], ({ stringId, asKnownAt }) => this.examinationRows.ofString(stringId, asKnownAt));
  readonly welds = oncePerCount([WELDS], ({ stringId, asKnownAt }) => this.weldRows.ofString(stringId, asKnownAt));
  readonly steps = oncePerCount([SPLICE_STEPS], ({ stringId, asKnownAt }) => this.stepRows.ofString(stringId, asKnownAt));
  /** In the order of `orderOfLine`. */
  readonly seamEvents = oncePerCount([SEAM_EVENTS], ({ stringId, asKnownAt }) => this.eventRows.inOrder(stringId, asKnownAt));
  /** The coils that the pipe was made of, and how they stand, by their ids. */
  readonly coilsUsed = oncePerGround(async ({ segments, asKnownAt }) => {
    const ids = [...new Set(segments.map(({ coilId }) => coilId))];
    const [coils, standings] = await Promise.all([this.coils.rowsByIds(ids, asKnownAt), this.standings.of(ids, asKnownAt)]);
    return { ids, coils, standings };
  });
  readonly changed = oncePerCount([REPAIRS, WELDS], ({ stringId, asKnownAt }) => this.histories.changed(stringId, asKnownAt));
  /** The repairs in the order in which they were made, with what is open after each. */
  readonly repairs = oncePerGround(async (ground) => {
    const [changed, examinations, inspections, steps] = await Promise.all([this.changed(ground), this.examinations(ground), this.inspections(ground), this.steps(ground)]);
    return this.reinspections.openAmong(changed, { examinations, inspections, splices: ground.splices, steps });
  });
  /** Of the well's site. */
  readonly timeZone = oncePerCount([STRINGS, WELLS], ({ stringId, asKnownAt }: EvidenceGround) => this.works.timeZoneOf(stringId, asKnownAt));
}
