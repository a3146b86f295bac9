import { Injectable } from '@nestjs/common';
import { microseconds } from '#libs/persistence';
import { ExaminationsService } from '../examinations/examinations.service.js';
import { InspectionsService } from '../inspections/inspections.service.js';
import { CutOutsService } from '../line/cut-outs.service.js';
import { jointOf } from '../rejoins/joint.js';
import { RejoinsService } from '../rejoins/rejoins.service.js';
import { examinationLook } from '../reinspections/looks.js';
import { intervalsOf, openOfRepairs } from '../reinspections/reinspection-answer.js';
import { namedElsewhere } from '../reinspections/named-elsewhere.js';
import { Reinspections } from '../reinspections/reinspections.service.js';
import { RepairHistories } from '../reinspections/repair-histories.service.js';
import { linkTo } from '../trace/record-link.js';
import { WeldsService } from '../welds/welds.service.js';
import { openOfRejoin } from './open-of-rejoin.js';
import type { RejoinRecordAnswer } from './rejoin-record.dto.js';

const CAUTION = 'A record of what was done and seen, not a release and no interlock: what is open here does not stop the line, nor the string at the hang-off.';

/** All that is on record of a re-join. */
@Injectable()
export class RejoinRecords {
  constructor(
    private readonly rejoins: RejoinsService,
    private readonly cutOuts: CutOutsService,
    private readonly welds: WeldsService,
    private readonly examinations: ExaminationsService,
    private readonly inspections: InspectionsService,
    private readonly histories: RepairHistories,
    private readonly reinspections: Reinspections,
  ) {}

  /** As known at an instant, or now. Refuses with 404 when there was no such re-join. */
  async of(rejoinId: string, asKnownAt: string | null): Promise<RejoinRecordAnswer> {
    const rejoin = await this.rejoins.row(rejoinId, asKnownAt);
    const { stringId, observedAt, verdict } = rejoin;
    const [cutOut, welds, changed] = await Promise.all([
      this.cutOuts.row(rejoin.cutOutId, asKnownAt), this.welds.ofRejoin(rejoinId, asKnownAt), this.histories.changed(stringId, asKnownAt),
    ]);
    const joint = jointOf(cutOut.span);
    const ends = joint.subtract(cutOut.span).subtract(changed.removed);
    const [examined, inspected] = await Promise.all([
      this.examinations.about(stringId, ends.toMultirange(), [rejoinId], asKnownAt), this.inspections.touching(stringId, ends.toMultirange(), asKnownAt),
    ]);
    const over = changed.repairs.filter(({ on, row }) => row.rejoinId === rejoinId || on.overlaps(ends));
    const repairs = await this.reinspections.statesOf(stringId, changed, over, asKnownAt);
    const looks = examined.map((row) => examinationLook(row, changed.joints));
    const named = [...looks.filter((_, index) => examined[index]?.rejoinId === rejoinId), ...over.filter(({ row }) => row.rejoinId === rejoinId)];
    return {
      rejoin: this.rejoins.answer(rejoin), cutOut: this.cutOuts.answer(cutOut), ends: intervalsOf(ends), welds: welds.map((weld) => this.welds.answer(weld)),
      examinations: examined.map((row) => this.examinations.answer(row)),
      inspections: inspected.filter((row) => microseconds(row.observedAt) >= microseconds(observedAt)).map((row) => linkTo('inspection', row, `${row.kind}: ${row.characteristic}`)),
      repairs,
      open: [
        ...(cutOut.state === 'void' ? ['its cut-out was withdrawn'] : []),
        ...openOfRejoin({ joinedAt: observedAt, verdict, ends, welds, examinations: looks, repairs: over }), ...openOfRepairs(repairs), ...namedElsewhere(named, joint),
      ],
      caution: CAUTION,
    };
  }
}
