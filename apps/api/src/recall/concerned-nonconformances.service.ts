import { Injectable } from '@nestjs/common';
import { LengthModels } from '../line/length-models.service.js';
import type { Nonconformance } from '../nonconformances/nonconformance.entity.js';
import { PLAIN_CONCERN, type Concerned, type ConcernedSpan } from './concerned.js';
import { ConcernedStrips, type ConcernedStrip } from './concerned-strip.service.js';
import { RecordFinder } from './record-finder.service.js';
import { linkOf, NONCONFORMANCES, startAt } from './record-kinds.js';

/** From a nonconformance to its pipe and strip. */
@Injectable()
export class ConcernedNonconformances {
  constructor(
    private readonly finder: RecordFinder,
    private readonly strips: ConcernedStrips,
    private readonly models: LengthModels,
  ) {}

  /** The pipe and strip that a nonconformance names. Refuses with 404 when there was none. */
  async of(id: string, asKnownAt: string | null): Promise<Concerned> {
    const row = await this.finder.one(NONCONFORMANCES, id, asKnownAt);
    return { ...startAt(NONCONFORMANCES, row), ...(await this.strip(row, asKnownAt)), others: [], notes: [] };
  }

  /** The same of a row at hand. */
  async strip(row: Nonconformance, asKnownAt: string | null): Promise<ConcernedStrip> {
    const strip = await this.strips.ofParts(row.coilExtents, asKnownAt);
    const { stringId } = row;
    if (stringId === null || row.given.length === 0) return strip;
    const { line } = await this.models.of(stringId, asKnownAt);
    const own = row.given.map((given): ConcernedSpan => {
      const { span, fromUMm, toUMm } = line.placed(given, row.observedAt);
      return { record: linkOf(NONCONFORMANCES, row), stringId, span: { ...span, uFromMm: Number(fromUMm), uToMm: Number(toUMm) }, ...PLAIN_CONCERN };
    });
    return { ...strip, spans: [...own, ...strip.spans] };
  }
}
