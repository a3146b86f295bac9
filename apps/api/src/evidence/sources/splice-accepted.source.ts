import { Injectable } from '@nestjs/common';
import { IntervalSet } from '#libs/intervals';
import { ExaminationsService } from '../../examinations/examinations.service.js';
import { EXAMINATIONS, linkOf, REPAIRS, SPLICE_STEPS, SPLICES, WELDS } from '../../recall/record-kinds.js';
import { examinationLook } from '../../reinspections/looks.js';
import { Reinspections } from '../../reinspections/reinspections.service.js';
import { RepairHistories } from '../../reinspections/repair-histories.service.js';
import { openOnSplice } from '../../splice-record/open-on-splice.js';
import { SpliceStepsService } from '../../splice-steps/splice-steps.service.js';
import type { SpliceVersion } from '../../splices/splice.entity.js';
import { WeldsService } from '../../welds/welds.service.js';
import type { EvidenceGround } from '../evidence-ground.js';
import type { EvidenceSource } from '../evidence-source.js';
import { testimonies, type RecordTestimony, type Word } from '../record-testimony.js';

const LONGEST = 500;

/** A splice was accepted, and its stages, welds, repairs and examinations bear that out. */
@Injectable()
export class SpliceAccepted implements EvidenceSource {
  readonly demands = 'splice-accepted';
  readonly restsOn = [EXAMINATIONS, REPAIRS, SPLICE_STEPS, WELDS];
  readonly restsOnSamples = false;

  constructor(
    private readonly steps: SpliceStepsService,
    private readonly welds: WeldsService,
    private readonly examinations: ExaminationsService,
    private readonly histories: RepairHistories,
    private readonly reinspections: Reinspections,
  ) {}

  async testimonies({ stringId, splices, asKnownAt, onTimeFrom }: EvidenceGround): Promise<RecordTestimony[]> {
    const [steps, welds, examinations, changed] = await Promise.all([
      this.steps.ofString(stringId, asKnownAt), this.welds.ofString(stringId, asKnownAt), this.examinations.ofString(stringId, asKnownAt), this.histories.changed(stringId, asKnownAt),
    ]);
    const states = await this.reinspections.statesOf(stringId, changed, changed.repairs, asKnownAt);
    return splices.flatMap((splice) => {
      const standing = IntervalSet.of(splice.span).subtract(changed.removed);
      const isOwn = (row: { readonly spliceId: string | null; readonly span: SpliceVersion['span'] }): boolean => row.spliceId === splice.id || standing.overlaps(row.span);
      const own = steps.filter(({ spliceId }) => spliceId === splice.id);
      const ownWelds = welds.filter(({ spliceId }) => spliceId === splice.id);
      const examined = examinations.filter(isOwn);
      const looks = examined.map((row) => examinationLook(row, changed.joints));
      const repairs = states.filter((_state, index) => isOwn((changed.repairs[index] as (typeof changed.repairs)[number]).row));
      const over = changed.repairs.filter(({ on }) => on.overlaps(splice.span));
      const open = openOnSplice({ splice, standing, steps: own, welds: ownWelds, over, repairs, looks });
      const beside = open.length === 0 ? own : [...own, ...ownWelds, ...examined, ...over.map(({ row }) => row)];
      return testimonies(standing, wordOn(splice, open, beside.map(({ enteredAt }) => enteredAt)), onTimeFrom);
    });
  }
}

/**
 * An accepted splice of which something is open is in doubt: its verdict says more than its records show. `besideEnteredAt`: when the
 * records beside it were entered, its steps, and where something is open all that may have opened it.
 */
export function wordOn(splice: SpliceVersion, open: readonly string[], besideEnteredAt: readonly string[]): Word {
  const { number, verdict, doubt, enteredAt } = splice;
  const said = { records: [linkOf(SPLICES, splice)], enteredAt: [enteredAt, ...besideEnteredAt] };
  const rest = open.length === 0 ? '' : `; ${open.join('; ')}`;
  const words = (judged: string): string => `splice ${number} ${judged}${rest}`.slice(0, LONGEST);
  if (verdict === 'rejected') return { ...said, says: 'failed', because: words('was rejected') };
  if (verdict === 'in-doubt') return { ...said, says: 'suspect', because: words(`is in doubt: ${doubt ?? ''}`) };
  if (verdict === 'open') return { ...said, says: 'awaited', because: words('has no verdict yet') };
  return open.length === 0 ? { ...said, says: 'confirmed', because: words('was accepted') } : { ...said, says: 'suspect', because: words('was accepted') };
}
