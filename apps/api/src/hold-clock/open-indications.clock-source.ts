import { Injectable } from '@nestjs/common';
import { indicationLabel } from '../indications/indication-label.js';
import { OpenIndications } from '../indication-standing/open-indications.service.js';
import { linkTo } from '../trace/record-link.js';
import { ClockSources, type ClockItem, type ClockSource } from './clock-sources.js';

/** Indications that nothing settles. */
@Injectable()
export class OpenIndicationsClockSource implements ClockSource {
  constructor(sources: ClockSources, private readonly indications: OpenIndications) {
    sources.add(this);
  }

  async itemsOf(stringId: string, asKnownAt: string | null): Promise<ClockItem[]> {
    return (await this.indications.open(stringId, asKnownAt)).map(({ row, because }): ClockItem => ({
      what: 'indication', record: linkTo('indication', row, indicationLabel(row)), because, footage: [row.span], fromUMm: Number(row.fromUMm),
    }));
  }
}
