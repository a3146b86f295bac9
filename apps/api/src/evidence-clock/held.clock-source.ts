import { Injectable } from '@nestjs/common';
import { EvidenceGrounds } from '../evidence/evidence-grounds.service.js';
import { HeldPipe } from '../evidence/held-pipe.service.js';
import { ClockSources, type ClockItem, type ClockSource } from '../hold-clock/clock-sources.js';
import { HOLDS, linkOf } from '../recall/record-kinds.js';

/** Holds that nobody lifted, on pipe that was made and on strip that is to be pipe. */
@Injectable()
export class HeldClockSource implements ClockSource {
  constructor(
    sources: ClockSources,
    private readonly grounds: EvidenceGrounds,
    private readonly held: HeldPipe,
  ) {
    sources.add(this);
  }

  async itemsOf(stringId: string, asKnownAt: string | null): Promise<ClockItem[]> {
    const standing = await this.held.standing(await this.grounds.of(stringId, asKnownAt));
    // The hold of a coil of which no pipe was made yet has no place.
    return standing.filter(({ on }) => !on.isEmpty).map(({ hold, on }): ClockItem => ({
      what: 'hold', record: linkOf(HOLDS, hold), because: hold.cause, footage: on.intervals.map(({ fromMm, toMm }) => ({ fromMm, toMm })), fromUMm: 0,
    }));
  }
}
