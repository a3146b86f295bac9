import { Injectable } from '@nestjs/common';
import type { IntervalSet } from '#libs/intervals';
import { ExaminationsService } from '../../examinations/examinations.service.js';
import { EXAMINATIONS, linkOf, REJOINS, REPAIRS, WELDS } from '../../recall/record-kinds.js';
import { examinationLook } from '../../reinspections/looks.js';
import { openOfRepairs } from '../../reinspections/reinspection-answer.js';
import { Reinspections } from '../../reinspections/reinspections.service.js';
import { RepairHistories, type Changed } from '../../reinspections/repair-histories.service.js';
import { openOfRejoin } from '../../rejoin-record/open-of-rejoin.js';
import { jointOf } from '../../rejoins/joint.js';
import type { Rejoin } from '../../rejoins/rejoin.entity.js';
import { WeldsService } from '../../welds/welds.service.js';
import type { EvidenceGround } from '../evidence-ground.js';
import type { EvidenceSource } from '../evidence-source.js';
import { testimonies, type RecordTestimony, type Word } from '../record-testimony.js';

const LONGEST = 500;

/** The weld that closes the pipe where a piece was cut out was accepted, and examined on both sides since it was made. */
@Injectable()
export class RejoinAccepted implements EvidenceSource {
  readonly demands = 'rejoin-accepted';
  readonly restsOn = [EXAMINATIONS, REPAIRS, WELDS];
  readonly restsOnSamples = false;

  constructor(
    private readonly welds: WeldsService,
    private readonly examinations: ExaminationsService,
    private readonly histories: RepairHistories,
    private readonly reinspections: Reinspections,
  ) {}

  async testimonies({ stringId, model, rejoins, asKnownAt, onTimeFrom }: EvidenceGround): Promise<RecordTestimony[]> {
    const [welds, examinations, changed] = await Promise.all([
      this.welds.ofString(stringId, asKnownAt), this.examinations.ofString(stringId, asKnownAt), this.histories.changed(stringId, asKnownAt),
    ]);
    const states = await this.reinspections.statesOf(stringId, changed, changed.repairs, asKnownAt);
    return model.records.cutOuts.flatMap((cut) => {
      const rejoin = rejoins.find(({ cutOutId }) => cutOutId === cut.id);
      if (rejoin === undefined) return [];
      const ends = jointOf(cut.span).subtract(cut.span).subtract(changed.removed);
      const isOver = ({ on, row }: Changed['repairs'][number]): boolean => row.rejoinId === rejoin.id || on.overlaps(ends);
      const looks = examinations.map((row) => examinationLook(row, changed.joints)).filter((look, index) => examinations[index]?.rejoinId === rejoin.id || look.on.overlaps(ends));
      const open = [
        ...openOfRejoin({
          joinedAt: rejoin.observedAt, verdict: rejoin.verdict, ends, welds: welds.filter(({ rejoinId }) => rejoinId === rejoin.id), examinations: looks, repairs: changed.repairs.filter(isOver),
        }),
        ...openOfRepairs(states.filter((_state, index) => isOver(changed.repairs[index] as Changed['repairs'][number]))),
      ];
      return wordsOn(ends, rejoin, open, onTimeFrom);
    });
  }
}

function wordsOn(ends: IntervalSet, rejoin: Rejoin, open: readonly string[], onTimeFrom: EvidenceGround['onTimeFrom']): RecordTestimony[] {
  return testimonies(ends, wordOn(rejoin, open), onTimeFrom);
}

/** An accepted re-join of which something is open is in doubt: its verdict says more than its records show. */
export function wordOn(rejoin: Rejoin, open: readonly string[]): Word {
  const said = { records: [linkOf(REJOINS, rejoin)], enteredAt: [rejoin.enteredAt] };
  const because = `re-join by ${rejoin.procedure}: ${[rejoin.verdict === 'open' ? 'no verdict yet' : rejoin.verdict, ...open].join('; ')}`.slice(0, LONGEST);
  if (rejoin.verdict === 'rejected') return { ...said, says: 'failed', because };
  if (rejoin.verdict === 'open') return { ...said, says: 'awaited', because };
  return { ...said, says: open.length === 0 ? 'confirmed' : 'suspect', because };
}
