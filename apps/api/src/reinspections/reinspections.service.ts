import { Injectable } from '@nestjs/common';
import { IntervalSet } from '#libs/intervals';
import { Refused } from '../http/problem.js';
import { RepairsService } from '../repairs/repairs.service.js';
import { CasingStringsService } from '../strings/casing-strings.service.js';
import { afterRepair } from './after-repair.js';
import { looksAmong, type LookRows, type RecordedLook, type RecordedRepair } from './looks.js';
import { openAfter, reinspectionParts, repairState } from './reinspection-answer.js';
import type { OpenAfterRepairAnswer, ReinspectionAnswer, RepairStateAnswer, StringRepairsAnswer } from './reinspection.dto.js';
import { RepairHistories, type Changed } from './repair-histories.service.js';

const CAUTION =
  'A comparison of what is on record, not a release and no interlock. It goes by nominal footage: let a look reach beyond the ends of a repair by the uncertainty of both '
  + 'places. Whether a technique is fit to find what was repaired, and whether another method may stand in for one that can no longer be used, is for a level 3 to say, who is believed here.';

/** A repair with all that is open after it. */
export interface RepairWithOpen {
  readonly repair: RecordedRepair;
  readonly open: readonly OpenAfterRepairAnswer[];
}

/** What counts no more after a repair, what was looked at since, and what is open. */
@Injectable()
export class Reinspections {
  constructor(
    private readonly repairs: RepairsService,
    private readonly histories: RepairHistories,
    private readonly strings: CasingStringsService,
  ) {}

  /** Of one repair, as known at an instant or now. Refuses with 404 when there was no such repair, with 409 when it is void. */
  async of(repairId: string, asKnownAt: string | null): Promise<ReinspectionAnswer> {
    const row = await this.repairs.row(repairId, asKnownAt);
    const changed = await this.histories.changed(row.stringId, asKnownAt);
    const repair = changed.repairs.find((one) => one.row.id === repairId);
    if (repair === undefined) throw new Refused(409, 'void', `The repair ${repairId} is void: it took nothing from any result.`);
    const looks = await this.histories.looksOn(row.stringId, repair.on, changed.joints, asKnownAt);
    const found = afterRepair(repair, changed, looks);
    return { repair: this.repairs.answer(row), ...reinspectionParts(found, changed.changes), open: openAfter(repair, changed.removed, found), caution: CAUTION };
  }

  /** Of all repairs of a string. Refuses with 404 or 409 as the string does. */
  async ofString(stringId: string, asKnownAt: string | null): Promise<StringRepairsAnswer> {
    await this.strings.open(stringId, asKnownAt);
    const changed = await this.histories.changed(stringId, asKnownAt);
    const repairs = await this.withOpen(stringId, changed, changed.repairs, asKnownAt);
    const openOn = IntervalSet.from(repairs.flatMap(({ open }) => open.flatMap(({ on }) => on)));
    return { repairs: repairs.map(({ repair, open }) => repairState(repair, open)), openOn: openOn.intervals.map(({ fromMm, toMm }) => ({ fromMm, toMm })), caution: CAUTION };
  }

  /** The repairs of a string known at an instant, or now, in the order in which they were made, each with what is open after it and where. */
  async openOf(stringId: string, asKnownAt: string | null): Promise<RepairWithOpen[]> {
    const changed = await this.histories.changed(stringId, asKnownAt);
    return this.withOpen(stringId, changed, changed.repairs, asKnownAt);
  }

  /** The same of what changed and all that was looked at, where these are known already. */
  openAmong(changed: Changed, rows: LookRows): RepairWithOpen[] {
    return openOfEach(changed.repairs, changed, looksAmong(rows, pipeOf(changed.repairs), changed.joints));
  }

  /** Of some repairs of a string, in their order. */
  async statesOf(stringId: string, changed: Changed, some: readonly RecordedRepair[], asKnownAt: string | null): Promise<RepairStateAnswer[]> {
    return (await this.withOpen(stringId, changed, some, asKnownAt)).map(({ repair, open }) => repairState(repair, open));
  }

  private async withOpen(stringId: string, changed: Changed, some: readonly RecordedRepair[], asKnownAt: string | null): Promise<RepairWithOpen[]> {
    const pipe = pipeOf(some);
    return openOfEach(some, changed, pipe.isEmpty ? [] : await this.histories.looksOn(stringId, pipe, changed.joints, asKnownAt));
  }
}

const pipeOf = (repairs: readonly RecordedRepair[]): IntervalSet => repairs.reduce((sum, { on }) => sum.union(on), IntervalSet.empty);

const openOfEach = (repairs: readonly RecordedRepair[], changed: Changed, looks: readonly RecordedLook[]): RepairWithOpen[] =>
  repairs.map((repair) => ({ repair, open: openAfter(repair, changed.removed, afterRepair(repair, changed, looks)) }));
