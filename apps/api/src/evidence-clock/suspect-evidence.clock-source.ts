import { Injectable } from '@nestjs/common';
import { IntervalSet } from '#libs/intervals';
import { EvidenceMaps } from '../evidence/evidence-maps.service.js';
import type { MapLine } from '../evidence/evidence-map.js';
import { ClockSources, type ClockItem, type ClockSource } from '../hold-clock/clock-sources.js';
import { CONTROL_PLANS, linkOf } from '../recall/record-kinds.js';

/** What other sources of the clock tell already, with the record that is open. */
const TOLD_ELSEWHERE: ReadonlySet<string> = new Set(['indications-settled', 'splice-accepted', 'released']);
const LONGEST = 500;

/** Pipe on which an item of the control plan is suspect or failed, and why. */
@Injectable()
export class SuspectEvidenceClockSource implements ClockSource {
  constructor(sources: ClockSources, private readonly maps: EvidenceMaps) {
    sources.add(this);
  }

  async itemsOf(stringId: string, asKnownAt: string | null): Promise<ClockItem[]> {
    const { lines } = asKnownAt === null ? await this.maps.lately(stringId) : await this.maps.of(stringId, asKnownAt);
    return lines.filter(({ of }) => of !== null && !TOLD_ELSEWHERE.has(of.item.demands)).flatMap(suspectOf);
  }
}

/** Stretches that rest on the same words are one. The record is the first that speaks against the pipe, or else the plan. */
function suspectOf({ of, stretches, testimonies }: MapLine): ClockItem[] {
  if (of === null) return [];
  const items = new Map<string, ClockItem>();
  for (const { state, fromMm, toMm, by } of stretches) {
    if (state !== 'suspect' && state !== 'failed') continue;
    const against = by.flatMap((nth) => testimonies.slice(nth, nth + 1));
    const because = `${of.item.code} ${state}: ${[...new Set(against.map((one) => one.because))].join('; ')}`.slice(0, LONGEST);
    const record = against.flatMap(({ records }) => records.slice(-1))[0] ?? linkOf(CONTROL_PLANS, of.plan);
    const key = `${record.kind} ${record.id} ${because}`;
    const footage = IntervalSet.from([...(items.get(key)?.footage ?? []), { fromMm, toMm }]).intervals;
    items.set(key, { what: 'evidence', record, because, footage, fromUMm: 0 });
  }
  return [...items.values()];
}
