import { Injectable } from '@nestjs/common';
import { IntervalSet, type Interval } from '#libs/intervals';
import { HoldLiftingsService } from '../hold-liftings/hold-liftings.service.js';
import type { Hold } from '../holds/hold.entity.js';
import { HoldsService } from '../holds/holds.service.js';
import { HOLD_LIFTINGS, HOLDS, linkOf } from '../recall/record-kinds.js';
import type { EvidenceGround } from './evidence-ground.js';
import { testimonies, type RecordTestimony } from './record-testimony.js';

/** A hold that nobody lifted, and the pipe of it. */
export interface StandingHold {
  readonly hold: Hold;
  readonly on: IntervalSet;
}

/** What is held of a string: intervals, and all pipe of coils and splices, wherever a correction moves these. */
@Injectable()
export class HeldPipe {
  readonly restsOn = [HOLDS, HOLD_LIFTINGS];

  constructor(
    private readonly holds: HoldsService,
    private readonly liftings: HoldLiftingsService,
  ) {}

  /** As testimonies against the pipe. */
  async of(ground: EvidenceGround): Promise<RecordTestimony[]> {
    return (await this.standing(ground)).flatMap(({ hold, on }) => testimonies(on, {
      says: 'failed', because: `held: ${hold.cause}`.slice(0, 500), records: [linkOf(HOLDS, hold)], enteredAt: [hold.enteredAt],
    }, ground.onTimeFrom));
  }

  /** The holds that stand, in the order of the records. */
  async standing({ stringId, asKnownAt, segments, splices }: Pick<EvidenceGround, 'stringId' | 'asKnownAt' | 'segments' | 'splices'>): Promise<StandingHold[]> {
    const [holds, liftings] = await Promise.all([this.holds.ofString(stringId, asKnownAt), this.liftings.ofString(stringId, asKnownAt)]);
    return holds.filter(({ id }) => !liftings.has(id)).map((hold) => ({ hold, on: pipeOf(hold, { segments, splices }) }));
  }
}

function pipeOf({ extent, coilIds, spliceIds }: Hold, { segments, splices }: Pick<EvidenceGround, 'segments' | 'splices'>): IntervalSet {
  const named: Interval[] = [...segments.filter(({ coilId }) => coilIds.includes(coilId)), ...splices.filter(({ id }) => spliceIds.includes(id))].map(({ span }) => span);
  return IntervalSet.from([...extent, ...named]);
}
