import { Injectable } from '@nestjs/common';
import type { Interval } from '#libs/intervals';
import type { RecordLink } from '../trace/trace.dto.js';

/** What the hold clock lists. A new source adds its word. */
export const CLOCK_KINDS = ['evidence', 'hold', 'indication', 'splice', 'splice-release'] as const;
export type ClockKind = (typeof CLOCK_KINDS)[number];

/** Something that is open on pipe, or on strip that is to be pipe. */
export interface ClockItem {
  readonly what: ClockKind;
  readonly record: RecordLink;
  /** Why it is open, in words. */
  readonly because: string;
  /** At least one interval; where they lie apart, the lowest gets to the hang-off first. */
  readonly footage: readonly Interval[];
  /** Standard uncertainty of the lower end, mm. */
  readonly fromUMm: number;
}

/** What knows open things of one kind. */
export interface ClockSource {
  /** Of a string, as known at an instant, or now; in pipe that was cut out too, in any order. */
  itemsOf(stringId: string, asKnownAt: string | null): Promise<ClockItem[]>;
}

/** Everything that knows open things with a place: each source adds itself, so that the clock needs to know none. */
@Injectable()
export class ClockSources {
  private readonly sources: ClockSource[] = [];

  add(source: ClockSource): void {
    this.sources.push(source);
  }

  /** Of all sources. */
  async itemsOf(stringId: string, asKnownAt: string | null): Promise<ClockItem[]> {
    return (await Promise.all(this.sources.map((source) => source.itemsOf(stringId, asKnownAt)))).flat();
  }
}
