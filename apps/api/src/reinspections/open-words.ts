import type { IntervalSet } from '#libs/intervals';
import type { Look, OpenPoint } from '#libs/reinspection';
import type { RecordedLook } from './looks.js';

/** Intervals that are named one by one; of more, the rest is counted. */
const NAMED = 5;

/** Footage in words: `212100 to 212200 mm`. */
export function pipeInWords({ intervals }: IntervalSet): string {
  const named = intervals.slice(0, NAMED).map(({ fromMm, toMm }) => `${fromMm} to ${toMm} mm`).join(', ');
  return intervals.length > NAMED ? `${named} and ${intervals.length - NAMED} more` : named;
}

/** How sensitive a look was, or by which technique where it states no reflector. */
export function sensitivityInWords({ sensitivity, technique }: Pick<Look, 'sensitivity' | 'technique'>): string {
  return sensitivity === null ? `none stated (${technique ?? 'no technique'})` : `${sensitivity.reflector} ${sensitivity.sizeMm} mm`;
}

/** What is open, in words that need nothing beside them. */
export const openInWords = (point: OpenPoint<RecordedLook>): string => `${pipeInWords(point.on)}: ${reasonInWords(point)}`;

/** The same of pipe that a weld was the last to change. */
export const openSinceWeldInWords = (point: OpenPoint<RecordedLook>, weldedAt: string): string =>
  `${pipeInWords(point.on)}, changed again by the weld of ${weldedAt}: ${reasonInWords(point)}`;

function reasonInWords({ reason, before, since }: OpenPoint<RecordedLook>): string {
  const [earlier, later] = [before[0], since[0]];
  const method = (earlier ?? later)?.method ?? '';
  const compared = `before: ${each(before)}; since: ${each(since)}`;
  const said: Readonly<Record<OpenPoint<RecordedLook>['reason'], string>> = {
    'not-looked-at': `not looked at for flaws since${askedAgain(before)}`,
    'not-repeated': `${method} was done before and not since`,
    'not-stated': `${method} since cannot be compared with that before: its sensitivity is not stated on both sides (${compared})`,
    'not-comparable': `${method} since cannot be compared with that before: the sensitivity is stated by another reflector (${compared})`,
    'less-sensitive': `${method} since was less sensitive than before (${compared})`,
    held: `${method} of ${later?.observedAt ?? ''} held it`,
    rejected: `${method} of ${later?.observedAt ?? ''} rejected it`,
  };
  return said[reason];
}

/** The methods that the pipe was looked at by before, each of which is asked for again. */
function askedAgain(before: readonly RecordedLook[]): string {
  const methods = [...new Set(before.map(({ method }) => method))];
  return methods.length === 0 ? '' : `; done before and asked for again: ${methods.join(', ')}`;
}

const each = (looks: readonly RecordedLook[]): string => [...new Set(looks.map(sensitivityInWords))].join(', ');
