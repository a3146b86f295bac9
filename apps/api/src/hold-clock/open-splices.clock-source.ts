import { Injectable } from '@nestjs/common';
import { openOfSplice } from '../open-items/open-items.rules.js';
import { SplicesService } from '../splices/splices.service.js';
import { linkTo } from '../trace/record-link.js';
import { ClockSources, type ClockItem, type ClockSource } from './clock-sources.js';

/** Splices that were not accepted, or whose place nobody has seen. */
@Injectable()
export class OpenSplicesClockSource implements ClockSource {
  constructor(sources: ClockSources, private readonly splices: SplicesService) {
    sources.add(this);
  }

  async itemsOf(stringId: string, asKnownAt: string | null): Promise<ClockItem[]> {
    return (await this.splices.ofString(stringId, asKnownAt)).flatMap((row): ClockItem[] => {
      const because = openOfSplice(row);
      return because === null ? [] : [{ what: 'splice', record: linkTo('splice', row, row.number), because, footage: [row.span], fromUMm: Number(row.fromUMm) }];
    });
  }
}
