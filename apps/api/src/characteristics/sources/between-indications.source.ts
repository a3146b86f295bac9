import { Injectable } from '@nestjs/common';
import { interval, IntervalSet } from '#libs/intervals';
import { Boundaries } from '#libs/subgroups';
import type { ControlChartPlan } from '../../control-charts/control-chart-plan.js';
import { IndicationsService } from '../../indications/indications.service.js';
import type { CharacteristicReading, CharacteristicReadings, CharacteristicSource, LeftOutReading } from '../characteristic-source.js';
import type { ChartGround } from '../chart-ground.js';
import { excludedEvents, type CountedEvent } from '../counted-lengths.js';
import { UnlookedPipe } from '../unlooked-pipe.service.js';
import { beginningsOn } from './indications.source.js';

/**
 * Pipe from the beginning of one indication to that of the next, in m, less what is left out of it or nobody looked at. Indications
 * are rare: coils, splices and stops lie between most of them, and only a change of set-up parts one gap from another.
 */
@Injectable()
export class MetresBetweenIndications implements CharacteristicSource {
  readonly characteristic = 'between-indications';
  readonly gathering = 'points';
  readonly brokenBy = ['set-up change' as const];
  readonly leavesOut = true;

  constructor(
    private readonly indications: IndicationsService,
    private readonly unlooked: UnlookedPipe,
  ) {}

  /** Throws as `UnlookedPipe.of`. */
  async readings(ground: ChartGround, { characteristic: { channelIds } }: ControlChartPlan): Promise<CharacteristicReadings> {
    const events = beginningsOn(ground, await this.indications.ofString(ground.stringId, ground.asKnownAt), channelIds);
    return gapsOn({ ...ground, exclusions: [...ground.exclusions, ...await this.unlooked.of(ground, channelIds)] }, events);
  }
}

/** @param events in rising order of their beginnings */
export function gapsOn({ interval: asked, boundaries, exclusions }: Pick<ChartGround, 'interval' | 'boundaries' | 'exclusions'>, events: readonly CountedEvent[]): CharacteristicReadings {
  const [between, excluded] = [new Boundaries(boundaries), IntervalSet.from(exclusions)];
  const [readings, leftOut]: [CharacteristicReading[], LeftOutReading[]] = [[], excludedEvents({ interval: asked, exclusions }, events)];
  let before: CountedEvent | null = null;
  for (const event of events.filter(({ span }) => !excluded.contains(span.fromMm))) {
    const from: CountedEvent | null = before;
    if (from !== null && from.span.fromMm === event.span.fromMm) {
      leftOut.push({ place: event.span, because: 'it begins where the one before it does: one event', records: [event.record] });
      continue;
    }
    before = event;
    if (from === null) continue;
    const place = interval(from.span.fromMm, event.span.fromMm);
    const over = between.upTo(place.fromMm) === between.upTo(place.toMm) ? null : between.after(place.fromMm);
    const records = [from.record, event.record];
    if (over !== null) leftOut.push({ place, because: `over a boundary: ${over.label}`, records });
    else readings.push({ place, values: [IntervalSet.of(place).subtract(excluded).totalLengthMm / 1000], of: null, observedAt: null, records, label: '', coil: null });
  }
  return { readings, leftOut };
}
