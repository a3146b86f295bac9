import { Injectable } from '@nestjs/common';
import { microseconds } from '#libs/persistence';
import { LengthModels } from '../line/length-models.service.js';
import type { PlacedVersion } from '../line/placed.entity.js';
import { momentAt, timeLeft, type TimeLeft } from './time-left.js';

/** How long places on the pipe have to the hang-off. */
@Injectable()
export class TimesLeft {
  constructor(private readonly models: LengthModels) {}

  /** Of places on one string, at an instant, as known at another one, or now; in their order. Refuses with 404 when the string was not known. */
  async of(stringId: string, places: readonly Pick<PlacedVersion, 'span' | 'fromUMm'>[], at: string, asKnownAt: string | null): Promise<TimeLeft[]> {
    const model = await this.models.of(stringId, asKnownAt);
    const moment = momentAt(model, microseconds(at));
    return places.map(({ span, fromUMm }) => timeLeft(moment, { ...span, uMm: Number(fromUMm) }));
  }
}
