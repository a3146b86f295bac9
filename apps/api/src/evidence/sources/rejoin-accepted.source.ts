import { Injectable } from '@nestjs/common';
import { EXAMINATIONS, INSPECTIONS, linkOf, REJOINS, REPAIRS, SPLICE_STEPS, WELDS } from '../../recall/record-kinds.js';
import { examinationLook } from '../../reinspections/looks.js';
import { openOfRepairs, repairState } from '../../reinspections/reinspection-answer.js';
import type { Changed } from '../../reinspections/repair-histories.service.js';
import { openOfRejoin } from '../../rejoin-record/open-of-rejoin.js';
import { jointOf } from '../../rejoins/joint.js';
import type { Rejoin } from '../../rejoins/rejoin.entity.js';
import type { EvidenceGround } from '../evidence-ground.js';
import type { EvidenceSource } from '../evidence-source.js';
import { GroundRecords } from '../ground-records.service.js';
import { testimonies, type RecordTestimony, type Word } from '../record-testimony.js';

const LONGEST = 500;

/** The weld that closes the pipe where a piece was cut out was accepted, and examined on both sides since it was made. */
@Injectable()
export class RejoinAccepted implements EvidenceSource {
  readonly demands = 'rejoin-accepted';
  /** Inspections and steps of splices too: what is open after a repair goes by all that looked at it. */
  readonly restsOn = [EXAMINATIONS, INSPECTIONS, REPAIRS, SPLICE_STEPS, WELDS];
  readonly restsOnSamples = false;

  constructor(private readonly records: GroundRecords) {}

  async testimonies(ground: EvidenceGround): Promise<RecordTestimony[]> {
    const { model, rejoins, onTimeFrom } = ground;
    const [welds, examinations, changed, opened] = await Promise.all([
      this.records.welds(ground), this.records.examinations(ground), this.records.changed(ground), this.records.repairs(ground),
    ]);
    return model.records.cutOuts.flatMap((cut) => {
      const rejoin = rejoins.find(({ cutOutId }) => cutOutId === cut.id);
      if (rejoin === undefined) return [];
      const ends = jointOf(cut.span).subtract(cut.span).subtract(changed.removed);
      const isOver = ({ on, row }: Changed['repairs'][number]): boolean => row.rejoinId === rejoin.id || on.overlaps(ends);
      const examined = examinations.map((row) => ({ row, look: examinationLook(row, changed.joints) })).filter(({ row, look }) => row.rejoinId === rejoin.id || look.on.overlaps(ends));
      const own = { welds: welds.filter(({ rejoinId }) => rejoinId === rejoin.id), repairs: changed.repairs.filter(isOver) };
      const open = [
        ...openOfRejoin({
          joinedAt: rejoin.observedAt, verdict: rejoin.verdict, ends, ...own, examinations: examined.map(({ look }) => look),
        }),
        ...openOfRepairs(opened.filter(({ repair }) => isOver(repair)).map(({ repair, open: points }) => repairState(repair, points))),
      ];
      const beside = open.length === 0 ? [] : [...own.welds, ...own.repairs.map(({ row }) => row), ...examined.map(({ row }) => row)];
      const word = wordOn(rejoin, open, beside.map(({ enteredAt }) => enteredAt));
      const links = [...own.welds.map((row) => linkOf(WELDS, row)), ...examined.map(({ row }) => linkOf(EXAMINATIONS, row)), ...own.repairs.map(({ record }) => record)];
      return testimonies(ends, { ...word, records: [...word.records, ...links] }, onTimeFrom);
    });
  }
}

/**
 * An accepted re-join of which something is open is in doubt: its verdict says more than its records show. `besideEnteredAt`: when
 * what may have opened it was entered.
 */
export function wordOn(rejoin: Rejoin, open: readonly string[], besideEnteredAt: readonly string[]): Word {
  const said = { records: [linkOf(REJOINS, rejoin)], enteredAt: [rejoin.enteredAt, ...besideEnteredAt], knownFrom: rejoin.knownFrom };
  const because = `re-join by ${rejoin.procedure}: ${[rejoin.verdict === 'open' ? 'no verdict yet' : rejoin.verdict, ...open].join('; ')}`.slice(0, LONGEST);
  if (rejoin.verdict === 'rejected') return { ...said, says: 'failed', because };
  if (rejoin.verdict === 'open') return { ...said, says: 'awaited', because };
  return { ...said, says: open.length === 0 ? 'confirmed' : 'suspect', because };
}
