import { Injectable } from '@nestjs/common';
import type { WorkPlace } from '../measured-work/measured-record.js';
import { WorkPlaces } from '../measured-work/work-places.service.js';
import type { RecordLink } from '../trace/trace.dto.js';
import { ConcernedStrips, wholeCoil } from './concerned-strip.service.js';
import { type Concern, type ConcernedSpan, type Following } from './concerned.js';
import { linkList } from './link-list.js';

/** A record of work, where it was done, and what it has to do with the start of the recall. */
export interface ConcernedWork extends Concern {
  readonly record: RecordLink;
  readonly place: WorkPlace;
}

/** From work to the pipe and strip that it was done on. */
@Injectable()
export class LocatedWork {
  constructor(
    private readonly places: WorkPlaces,
    private readonly strips: ConcernedStrips,
  ) {}

  /** Each with its pipe; of work on coils the whole coils. Records without footage of their own are named among the others. */
  async of(works: readonly ConcernedWork[], asKnownAt: string | null): Promise<Following> {
    const pipe = await this.places.pipeOf(works.map(({ place }) => place), asKnownAt);
    const onPipe = works.flatMap(({ place, record, isCertain, because }, index): ConcernedSpan[] =>
      (place.on === 'coil' ? [] : (pipe[index] ?? []).map((span) => ({ record, stringId: place.stringId, span, isCertain, because }))));
    const onStrip = await this.onStrip(works, asKnownAt);
    const elsewhere = works.filter((_, index) => pipe[index]?.length === 0).map(({ record }) => record);
    return { spans: [...onPipe, ...onStrip.spans], coils: onStrip.coils, others: byKind(elsewhere), notes: [] };
  }

  private async onStrip(works: readonly ConcernedWork[], asKnownAt: string | null): Promise<Pick<Following, 'spans' | 'coils'>> {
    const concerns = new Map<string, Concern>();
    for (const { place, isCertain, because } of works) {
      if (place.on === 'coil' && concerns.get(place.coilId)?.isCertain !== true) concerns.set(place.coilId, { isCertain, because });
    }
    return this.strips.ofParts([...concerns.keys()].map(wholeCoil), asKnownAt, (coilId) => concerns.get(coilId));
  }
}

/** Records by their kind, each once. */
export function byKind(records: readonly RecordLink[]): Following['others'] {
  const once = [...new Map(records.map((record) => [`${record.kind} ${record.id}`, record])).values()];
  return [...new Set(once.map(({ kind }) => kind))].map((kind) => ({ kind, ...linkList(once.filter((record) => record.kind === kind)) }));
}
