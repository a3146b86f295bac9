import { Injectable } from '@nestjs/common';
import { IntervalSet } from '#libs/intervals';
import { ExaminationsService } from '../examinations/examinations.service.js';
import { InspectionsService } from '../inspections/inspections.service.js';
import { CutOutsService } from '../line/cut-outs.service.js';
import { jointOf } from '../rejoins/joint.js';
import { RejoinsService } from '../rejoins/rejoins.service.js';
import { RepairsService } from '../repairs/repairs.service.js';
import { SpliceStepsService } from '../splice-steps/splice-steps.service.js';
import { SplicesService } from '../splices/splices.service.js';
import { WeldsService } from '../welds/welds.service.js';
import type { Changes } from './after-repair.js';
import { looksAmong, repairOf, weldOf, type Joints, type RecordedChange, type RecordedLook } from './looks.js';

/** What was changed on a string: its repairs, these and its welds, its re-joins, and the pipe that is no longer in it. */
export interface Changed extends Changes {
  readonly changes: readonly RecordedChange[];
  readonly joints: Joints;
}

/** What happened to pipe of a string, and what was seen of it. */
@Injectable()
export class RepairHistories {
  constructor(
    private readonly repairs: RepairsService,
    private readonly examinations: ExaminationsService,
    private readonly inspections: InspectionsService,
    private readonly splices: SplicesService,
    private readonly steps: SpliceStepsService,
    private readonly rejoins: RejoinsService,
    private readonly cutOuts: CutOutsService,
    private readonly welds: WeldsService,
  ) {}

  async changed(stringId: string, asKnownAt: string | null): Promise<Changed> {
    const [rows, rejoins, cutOuts, splices, welds] = await Promise.all([
      this.repairs.inOrder(stringId, asKnownAt), this.rejoins.ofString(stringId, asKnownAt), this.cutOuts.ofString(stringId, asKnownAt),
      this.splices.ofString(stringId, asKnownAt), this.welds.ofString(stringId, asKnownAt),
    ]);
    const spans = new Map(cutOuts.map(({ id, span }) => [id, span]));
    const joints = new Map(rejoins.flatMap(({ id, cutOutId }) => {
      const span = spans.get(cutOutId);
      return span === undefined ? [] : [[id, jointOf(span)] as const];
    }));
    const repairs = rows.map((row) => repairOf(row, joints));
    const welded = new Map([...joints, ...splices.map(({ id, span }) => [id, IntervalSet.of(span)] as const)]);
    const made = welds.map((row) => weldOf(row, welded.get(row.spliceId ?? row.rejoinId ?? '') ?? IntervalSet.empty));
    return { repairs, welds: made, changes: [...repairs, ...made], joints, removed: IntervalSet.from(spans.values()) };
  }

  /** All looks at some pipe of a string, whatever they are recorded as. */
  async looksOn(stringId: string, pipe: IntervalSet, joints: Joints, asKnownAt: string | null): Promise<RecordedLook[]> {
    const multirange = pipe.toMultirange();
    const touched = [...joints].filter(([, joint]) => joint.overlaps(pipe)).map(([id]) => id);
    const [examinations, inspections, splices] = await Promise.all([
      this.examinations.about(stringId, multirange, touched, asKnownAt), this.inspections.touching(stringId, multirange, asKnownAt),
      this.splices.touching(stringId, multirange, asKnownAt),
    ]);
    const steps = await Promise.all(splices.map(({ id }) => this.steps.ofSplice(id, asKnownAt)));
    return looksAmong({ examinations, inspections, splices, steps: steps.flat() }, pipe, joints);
  }
}
