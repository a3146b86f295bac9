import type { RecordLink } from '../trace/trace.dto.js';

/** More links than these are counted, not named. */
export const MOST_LINKS = 500;

/** Records named in an answer: all of them, or the first and how many there are. */
export interface LinkList {
  readonly total: number;
  readonly truncated: boolean;
  readonly links: RecordLink[];
}

/** A list of links cut to the most that are named. */
export function linkList(links: readonly RecordLink[]): LinkList {
  return { total: links.length, truncated: links.length > MOST_LINKS, links: links.slice(0, MOST_LINKS) };
}
