import { Injectable } from '@nestjs/common';
import { IntervalSet } from '#libs/intervals';
import { DestructiveCoverages } from '../destructive-coverage/destructive-coverage.service.js';
import { ExaminationsService } from '../examinations/examinations.service.js';
import { indicationLabel } from '../indications/indication-label.js';
import { OpenIndications } from '../indication-standing/open-indications.service.js';
import { examinationLook } from '../reinspections/looks.js';
import { intervalsOf } from '../reinspections/reinspection-answer.js';
import { RepairHistories, type Changed } from '../reinspections/repair-histories.service.js';
import { SpliceStepsService } from '../splice-steps/splice-steps.service.js';
import { SplicesService } from '../splices/splices.service.js';
import { linkTo } from '../trace/record-link.js';
import { WeldsService } from '../welds/welds.service.js';
import { LONGEST_WORDS, type Found } from './found.js';
import { openOfExamination, openSteps, weldsOutside } from './open-work.rules.js';

/** Welds, steps of splices, examinations, indications and destructive tests that are not settled. */
@Injectable()
export class OpenWork {
  constructor(
    private readonly welds: WeldsService,
    private readonly steps: SpliceStepsService,
    private readonly examinations: ExaminationsService,
    private readonly coverages: DestructiveCoverages,
    private readonly splices: SplicesService,
    private readonly histories: RepairHistories,
    private readonly indications: OpenIndications,
  ) {}

  /** Of a string, as known at an instant, or now. */
  async of(stringId: string, asKnownAt: string | null): Promise<Found[]> {
    const [splices, changed] = await Promise.all([this.splices.ofString(stringId, asKnownAt), this.histories.changed(stringId, asKnownAt)]);
    const spans = new Map(splices.map(({ id, span: { fromMm, toMm } }) => [id, [{ fromMm, toMm }]]));
    const labels = new Map(splices.map(({ id, number }) => [id, number]));
    const parts = await Promise.all([
      this.openWelds(stringId, spans, changed, asKnownAt), this.openSteps(stringId, spans, labels, asKnownAt),
      this.openExaminations(stringId, changed, asKnownAt), this.openTests(stringId, asKnownAt), this.openIndications(stringId, asKnownAt),
    ]);
    return parts.flat();
  }

  /** The footage of a weld of a re-join is the pipe at both sides of it. */
  private async openWelds(stringId: string, spans: ReadonlyMap<string, Found['footage']>, { joints, removed }: Changed, asKnownAt: string | null): Promise<Found[]> {
    return weldsOutside(await this.welds.ofString(stringId, asKnownAt)).map(({ weld: row, words }): Found => ({
      what: 'weld', record: linkTo('weld', row, `of ${row.observedAt}`), words: words.slice(0, LONGEST_WORDS), row, about: null,
      footage: spans.get(row.spliceId ?? '') ?? intervalsOf((joints.get(row.rejoinId ?? '') ?? IntervalSet.empty).subtract(removed)),
    }));
  }

  private async openSteps(
    stringId: string, spans: ReadonlyMap<string, Found['footage']>, labels: ReadonlyMap<string, string>, asKnownAt: string | null,
  ): Promise<Found[]> {
    return openSteps(await this.steps.ofString(stringId, asKnownAt)).map((row): Found => {
      const where = row.station === null ? row.stage : `${row.stage} at ${row.station}`;
      return {
        what: 'splice-step', record: linkTo('splice-step', row, row.stage), words: `splice ${labels.get(row.spliceId) ?? ''}, ${where}: ${row.outcome}`, row,
        footage: spans.get(row.spliceId) ?? [], about: null,
      };
    });
  }

  /** An examination of a re-join is of the whole joint, whichever of its two ends is given; what is left of it is its footage. */
  private async openExaminations(stringId: string, { joints, removed }: Changed, asKnownAt: string | null): Promise<Found[]> {
    const rows = await this.examinations.ofString(stringId, asKnownAt);
    const looks = rows.map((row) => ({ row, look: examinationLook(row, joints) }));
    return looks.flatMap(({ row, look }): Found[] => {
      const open = openOfExamination(look, looks.map((one) => one.look));
      if (open.isEmpty) return [];
      const left = open.subtract(removed);
      const words = `${row.method}, ${row.outcome}${row.seen === null ? '' : `: ${row.seen}`}`;
      return [{ what: 'examination', record: linkTo('examination', row, `${row.method} at ${row.span.fromMm} mm`), words: words.slice(0, LONGEST_WORDS), row, footage: intervalsOf(left.isEmpty ? open : left), about: null }];
    });
  }

  private async openIndications(stringId: string, asKnownAt: string | null): Promise<Found[]> {
    return (await this.indications.open(stringId, asKnownAt)).map(({ row, because: words }): Found => ({
      what: 'indication', record: linkTo('indication', row, indicationLabel(row)), words, row, footage: [{ fromMm: row.span.fromMm, toMm: row.span.toMm }], about: null,
    }));
  }

  private async openTests(stringId: string, asKnownAt: string | null): Promise<Found[]> {
    const units = await this.coverages.unsettled(stringId, asKnownAt);
    return units.map(({ kind, tests: [first], along, words, footage }): Found => ({
      what: 'destructive-test', record: linkTo('destructive-test', first.row, first.name), words: `${kind}, ${words}`.slice(0, LONGEST_WORDS), row: first.row,
      footage: intervalsOf(footage), about: null, along,
    }));
  }
}
