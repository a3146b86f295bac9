import { Injectable } from '@nestjs/common';
import { IntervalSet } from '#libs/intervals';
import { EXAMINATIONS, INSPECTIONS, linkOf, REPAIRS, SPLICE_STEPS, SPLICES, WELDS } from '../../recall/record-kinds.js';
import { examinationLook } from '../../reinspections/looks.js';
import { repairState } from '../../reinspections/reinspection-answer.js';
import { openOnSplice } from '../../splice-record/open-on-splice.js';
import type { SpliceVersion } from '../../splices/splice.entity.js';
import type { EvidenceGround } from '../evidence-ground.js';
import type { EvidenceSource } from '../evidence-source.js';
import { GroundRecords } from '../ground-records.service.js';
import { testimonies, type RecordTestimony, type Word } from '../record-testimony.js';

const LONGEST = 500;

/** A splice was accepted, and its stages, welds, repairs and examinations bear that out. */
@Injectable()
export class SpliceAccepted implements EvidenceSource {
  readonly demands = 'splice-accepted';
  /** Inspections too: what is open after a repair goes by all that looked at it. */
  readonly restsOn = [EXAMINATIONS, INSPECTIONS, REPAIRS, SPLICE_STEPS, WELDS];
  readonly restsOnSamples = false;

  constructor(private readonly records: GroundRecords) {}

  async testimonies(ground: EvidenceGround): Promise<RecordTestimony[]> {
    const { splices, onTimeFrom } = ground;
    const [steps, welds, examinations, changed, opened] = await Promise.all([
      this.records.steps(ground), this.records.welds(ground), this.records.examinations(ground), this.records.changed(ground), this.records.repairs(ground),
    ]);
    return splices.flatMap((splice) => {
      const standing = IntervalSet.of(splice.span).subtract(changed.removed);
      const isOwn = (row: { readonly spliceId: string | null; readonly span: SpliceVersion['span'] }): boolean => row.spliceId === splice.id || standing.overlaps(row.span);
      const own = steps.filter(({ spliceId }) => spliceId === splice.id);
      const ownWelds = welds.filter(({ spliceId }) => spliceId === splice.id);
      const examined = examinations.filter(isOwn);
      const looks = examined.map((row) => examinationLook(row, changed.joints));
      const repairs = opened.filter(({ repair }) => isOwn(repair.row)).map(({ repair, open }) => repairState(repair, open));
      const over = changed.repairs.filter(({ on }) => on.overlaps(splice.span));
      const open = openOnSplice({ splice, standing, steps: own, welds: ownWelds, over, repairs, looks });
      const beside = open.length === 0 ? own : [...own, ...ownWelds, ...examined, ...over.map(({ row }) => row)];
      const word = wordOn(splice, open, beside.map(({ enteredAt }) => enteredAt));
      const links = [...own.map((row) => linkOf(SPLICE_STEPS, row)), ...ownWelds.map((row) => linkOf(WELDS, row)), ...examined.map((row) => linkOf(EXAMINATIONS, row)), ...over.map(({ record }) => record)];
      return testimonies(standing, { ...word, records: [...word.records, ...links] }, onTimeFrom);
    });
  }
}

/**
 * An accepted splice of which something is open is in doubt: its verdict says more than its records show. `besideEnteredAt`: when the
 * records beside it were entered, its steps, and where something is open all that may have opened it.
 */
export function wordOn(splice: SpliceVersion, open: readonly string[], besideEnteredAt: readonly string[]): Word {
  const { number, verdict, doubt, enteredAt, knownFrom } = splice;
  const said = { records: [linkOf(SPLICES, splice)], enteredAt: [enteredAt, ...besideEnteredAt], knownFrom };
  const rest = open.length === 0 ? '' : `; ${open.join('; ')}`;
  const words = (judged: string): string => `splice ${number} ${judged}${rest}`.slice(0, LONGEST);
  if (verdict === 'rejected') return { ...said, says: 'failed', because: words('was rejected') };
  if (verdict === 'in-doubt') return { ...said, says: 'suspect', because: words(`is in doubt: ${doubt ?? ''}`) };
  if (verdict === 'open') return { ...said, says: 'awaited', because: words('has no verdict yet') };
  return open.length === 0 ? { ...said, says: 'confirmed', because: words('was accepted') } : { ...said, says: 'suspect', because: words('was accepted') };
}
