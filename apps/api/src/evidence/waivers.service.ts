import { Injectable } from '@nestjs/common';
import type { EvidenceWaiver } from '../evidence-waivers/evidence-waiver.entity.js';
import { EvidenceWaiversService } from '../evidence-waivers/evidence-waivers.service.js';
import { EVIDENCE_WAIVERS, linkOf } from '../recall/record-kinds.js';
import type { EvidenceGround } from './evidence-ground.js';
import { oncePerGround } from './once-per-ground.js';
import { testimonies, type WaiverTestimony } from './record-testimony.js';

/** What somebody agreed not to need on some pipe. */
@Injectable()
export class Waivers {
  readonly restsOn = [EVIDENCE_WAIVERS];

  constructor(private readonly waivers: EvidenceWaiversService) {}

  /** Of one item, whatever plan of the string has it. */
  async of(ground: EvidenceGround, itemCode: string): Promise<WaiverTestimony[]> {
    const rows = await this.given(ground);
    return rows.filter((row) => row.itemCode === itemCode).flatMap((row) => testimonies(row.span, {
      says: 'waived', because: wordsOf(row), records: [linkOf(EVIDENCE_WAIVERS, row)], enteredAt: [row.enteredAt],
    }, ground.onTimeFrom).map((said) => ({ ...said, isConcession: row.basis === 'concession' })));
  }

  private readonly given = oncePerGround(({ stringId, asKnownAt }) => this.waivers.ofString(stringId, asKnownAt));
}

const wordsOf = ({ basis, agreedBy, grounds }: EvidenceWaiver): string => `${basis} agreed by ${agreedBy}: ${grounds}`.slice(0, 500);
