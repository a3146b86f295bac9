import { Injectable } from '@nestjs/common';
import { IntervalSet } from '#libs/intervals';
import { EvidenceMaps } from '../evidence/evidence-maps.service.js';
import type { EvidenceMap } from '../evidence/evidence-map.js';
import { ClockSources, type ClockItem, type ClockSource } from '../hold-clock/clock-sources.js';
import { linkOf, SPLICES } from '../recall/record-kinds.js';

/** Splices in pipe of which a release is asked, and that none stands on. */
@Injectable()
export class UnreleasedSplicesClockSource implements ClockSource {
  constructor(sources: ClockSources, private readonly maps: EvidenceMaps) {
    sources.add(this);
  }

  async itemsOf(stringId: string, asKnownAt: string | null): Promise<ClockItem[]> {
    const map = asKnownAt === null ? await this.maps.lately(stringId) : await this.maps.of(stringId, asKnownAt);
    const unreleased = unreleasedPipe(map);
    return map.ground.splices.filter(({ span }) => unreleased.overlaps(span)).map((splice): ClockItem => ({
      what: 'splice-release', record: linkOf(SPLICES, splice), because: `splice ${splice.number} is not released`, footage: [{ fromMm: splice.span.fromMm, toMm: splice.span.toMm }],
      fromUMm: Number(splice.fromUMm),
    }));
  }
}

const SHOWN: ReadonlySet<string> = new Set(['confirmed', 'conceded', 'not-required']);

function unreleasedPipe({ lines }: EvidenceMap): IntervalSet {
  const asked = lines.filter(({ of }) => of?.item.demands === 'released');
  return IntervalSet.from(asked.flatMap(({ stretches }) => stretches.filter(({ state }) => !SHOWN.has(state))));
}
