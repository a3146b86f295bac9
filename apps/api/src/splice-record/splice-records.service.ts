import { Injectable } from '@nestjs/common';
import { IntervalSet } from '#libs/intervals';
import { seamJunctions, spliceGeometry } from '#libs/welding';
import { CoilsService } from '../coils/coils.service.js';
import { ExaminationsService } from '../examinations/examinations.service.js';
import { examinationLook } from '../reinspections/looks.js';
import { intervalsOf } from '../reinspections/reinspection-answer.js';
import { namedElsewhere } from '../reinspections/named-elsewhere.js';
import { Reinspections } from '../reinspections/reinspections.service.js';
import { RepairHistories } from '../reinspections/repair-histories.service.js';
import { SpliceArrivals } from '../splice-arrivals/splice-arrivals.service.js';
import type { SpliceStep } from '../splice-steps/splice-step.entity.js';
import { SpliceStepsService } from '../splice-steps/splice-steps.service.js';
import { SplicesService } from '../splices/splices.service.js';
import { linkTo } from '../trace/record-link.js';
import { WeldChecks } from '../weld-checks/weld-checks.service.js';
import type { Weld } from '../welds/weld.entity.js';
import { WeldsService } from '../welds/welds.service.js';
import { WorkChecks } from '../work-checks/work-checks.service.js';
import type { SpliceRecordAnswer } from './splice-record.dto.js';
import { openOnSplice } from './open-on-splice.js';
import { stageStates } from './splice-stages.js';

const CAUTION = 'A record of what was done and seen, not a release and no interlock: a hold here does not stop the line.';

/** All that is on record of a splice, stage by stage. */
@Injectable()
export class SpliceRecords {
  constructor(
    private readonly splices: SplicesService,
    private readonly steps: SpliceStepsService,
    private readonly welds: WeldsService,
    private readonly coils: CoilsService,
    private readonly arrivals: SpliceArrivals,
    private readonly weldChecks: WeldChecks,
    private readonly workChecks: WorkChecks,
    private readonly examinations: ExaminationsService,
    private readonly histories: RepairHistories,
    private readonly reinspections: Reinspections,
  ) {}

  /** As known at an instant, or now. Refuses with 404 when there was no such splice. */
  async of(spliceId: string, asKnownAt: string | null): Promise<SpliceRecordAnswer> {
    const splice = await this.splices.row(spliceId, asKnownAt);
    const [steps, welds, leaving, entering, { arrival, count }, examinations, changed] = await Promise.all([
      this.steps.ofSplice(spliceId, asKnownAt), this.welds.ofSplice(spliceId, asKnownAt), this.coils.row(splice.leavingCoilId, asKnownAt),
      this.coils.row(splice.enteringCoilId, asKnownAt), this.arrivals.ofSplice(splice.stringId, spliceId, asKnownAt),
      this.examinations.ofSplice(splice, asKnownAt), this.histories.changed(splice.stringId, asKnownAt),
    ]);
    const unproved = await this.unproved(welds, steps, asKnownAt);
    const own = changed.repairs.filter(({ row, on }) => row.spliceId === spliceId || on.overlaps(splice.span));
    const repairs = await this.reinspections.statesOf(splice.stringId, changed, own, asKnownAt);
    const standing = IntervalSet.of(splice.span).subtract(changed.removed);
    const over = own.filter(({ on }) => on.overlaps(splice.span));
    const made = { weldedAt: welds.map(({ observedAt }) => observedAt), repairedAt: over.map(({ row }) => row.observedAt) };
    const looks = examinations.map((row) => examinationLook(row, changed.joints));
    const named = [...looks.filter((_, index) => examinations[index]?.spliceId === spliceId), ...own.filter(({ row }) => row.spliceId === spliceId)];
    const geometry = spliceGeometry(Number(entering.widthMm), Number(splice.angleDeg));
    const counted = count.agrees ? [] : [`${count.coilRuns} runs of coil and ${count.splices} splices on the string: one splice fewer than runs was expected`];
    return {
      splice: this.splices.answer(splice), leavingCoil: linkTo('coil', leaving, leaving.number), enteringCoil: linkTo('coil', entering, entering.number),
      ...geometry, seamJunctions: seamJunctions(splice.span, splice.hand).map((one) => ({ ...one })),
      ...(typeof arrival === 'string' ? { arrival: null, arrivalBecause: arrival } : { arrival, arrivalBecause: null }), stages: stageStates(steps, made),
      standing: intervalsOf(standing), steps: steps.map((step) => this.steps.answer(step)), welds: welds.map((weld) => this.welds.answer(weld)),
      examinations: examinations.map((row) => this.examinations.answer(row)), repairs, count,
      open: standing.isEmpty ? ['all of it was cut out', ...counted] : [
        ...openOnSplice({ splice, standing, steps, welds, over, repairs, looks }), ...namedElsewhere(named, IntervalSet.of(splice.span)), ...unproved, ...counted,
      ],
      caution: CAUTION,
    };
  }

  /** The welds and steps whose people, instruments or procedure are not on record as good that day, each with its check. */
  private async unproved(welds: readonly Weld[], steps: readonly SpliceStep[], asKnownAt: string | null): Promise<string[]> {
    const [weldChecks, stepChecks] = await Promise.all([
      Promise.all(welds.map((weld) => this.weldChecks.ofRow(weld, asKnownAt))), Promise.all(steps.map((step) => this.workChecks.ofStepRow(step, asKnownAt))),
    ]);
    return [
      ...weldChecks.flatMap(({ weld, open }) => notProved(`weld ${weld.label}`, open, `/api/welds/${weld.id}/check`)),
      ...stepChecks.flatMap(({ step, open }) => notProved(step.label, open, `/api/splice-steps/${step.id}/check`)),
    ];
  }
}

function notProved(label: string, open: readonly { readonly about: string }[], check: string): string[] {
  if (open.length === 0) return [];
  return [`${label} is not proved: ${[...new Set(open.map(({ about }) => about))].join(', ')}; see ${check}`];
}
