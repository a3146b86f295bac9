import { Injectable } from '@nestjs/common';
import { microseconds } from '#libs/persistence';
import { COIL_DECISIONS, DEVIATION_PERMITS, linkOf } from '../../recall/record-kinds.js';
import type { CoilStanding } from '../../standing/coil-standing.js';
import type { EvidenceGround } from '../evidence-ground.js';
import type { EvidenceSource } from '../evidence-source.js';
import { GroundRecords } from '../ground-records.service.js';
import { testimonies, type RecordTestimony, type Word } from '../record-testimony.js';

/** The coil that pipe was made of was accepted: by the decision that stands, or permitted for the string. */
@Injectable()
export class CoilAccepted implements EvidenceSource {
  readonly demands = 'coil-accepted';
  readonly restsOn = [COIL_DECISIONS, DEVIATION_PERMITS];
  readonly restsOnSamples = false;

  constructor(private readonly records: GroundRecords) {}

  async testimonies(ground: EvidenceGround): Promise<RecordTestimony[]> {
    const { stringId, segments, onTimeFrom } = ground;
    const { coils, standings } = await this.records.coilsUsed(ground);
    return segments.flatMap(({ coilId, span }) => {
      const standing = standings.get(coilId);
      const words = standing === undefined ? [] : wordsOf(`coil ${coils.get(coilId)?.number ?? coilId}`, standing, stringId);
      return words.flatMap((word) => testimonies(span, word, onTimeFrom));
    });
  }
}

const SAYS = { held: 'suspect', accepted: 'confirmed', 'accepted-under-concession': 'waived', rejected: 'failed', returned: 'failed' } as const;
const WORDS: Readonly<Record<keyof typeof SAYS, string>> = {
  held: 'is held', accepted: 'was accepted', 'accepted-under-concession': 'was accepted under concession', rejected: 'was rejected', returned: 'was returned',
};

function wordsOf(coil: string, { state, decision, permits }: CoilStanding, stringId: string): Word[] {
  const decided: Word[] = state === 'not-decided' || decision === null
    ? []
    : [{ says: SAYS[state], because: `${coil} ${WORDS[state]}`, records: [linkOf(COIL_DECISIONS, decision)], enteredAt: [decision.enteredAt] }];
  // A permit that ran out since the pipe was made was good for it; one that a decision followed was ended by it.
  const standing = permits.filter(({ enteredAt }) => decision === null || microseconds(enteredAt) > microseconds(decision.knownFrom));
  const permitted = standing.filter(({ forStringId }) => forStringId === null || forStringId === stringId).map((permit): Word => ({
    says: 'waived', because: `${coil} was permitted: ${permit.departure.slice(0, 200)}`, records: [linkOf(DEVIATION_PERMITS, permit)], enteredAt: [permit.enteredAt],
  }));
  return [...decided, ...permitted];
}
