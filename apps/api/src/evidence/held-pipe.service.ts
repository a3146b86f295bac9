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

/** What is held of a string: intervals, and all pipe of coils and splices, wherever a correction moves these. A coil is held on every string that it went into. */
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
    const holds = await this.holds.about(stringId, [...new Set(segments.map(({ coilId }) => coilId))], asKnownAt);
    const liftings = await this.liftings.ofHolds(holds.map(({ id }) => id), asKnownAt);
    return holds.filter(({ id }) => !liftings.has(id)).map((hold) => ({ hold, on: pipeOf(hold, { stringId, segments, splices }) }));
  }
}

function pipeOf({ stringId, extent, coilIds, spliceIds }: Hold, { stringId: ownId, segments, splices }: Pick<EvidenceGround, 'stringId' | 'segments' | 'splices'>): IntervalSet {
  const named: Interval[] = [...segments.filter(({ coilId }) => coilIds.includes(coilId)), ...splices.filter(({ id }) => spliceIds.includes(id))].map(({ span }) => span);
  return IntervalSet.from([...(stringId === ownId ? extent : []), ...named]);
}
