import { microseconds } from '#libs/persistence';
import type { Handover } from '../handovers/handover.entity.js';
import type { FieldProblem } from '../http/problem.js';
import type { Finding } from '../records/plausibility.js';
import type { Shift } from '../shifts/shift.entity.js';
import { inWords, isOn } from '../shifts/shift.rules.js';
import type { AcceptedItem } from './handover-acceptance.entity.js';

/** What does not go together: an item that is not there, named twice or left out, or refused without a word. */
export function acceptanceFaults(items: readonly AcceptedItem[], count: number): FieldProblem[] {
  const named = items.map(({ item }) => item);
  const left = Array.from({ length: count }, (_, index) => index + 1).filter((item) => !named.includes(item));
  const of = count === 0 ? 'no item: the handover has none' : `one of the items 1 to ${count} of the handover, once`;
  return [
    ...items.flatMap(({ item, accepted, words }, index) => [
      ...(item > count || named.indexOf(item) < index ? [{ field: `items[${index}].item`, value: item, limit: of }] : []),
      ...(accepted || words !== null ? [] : [{ field: `items[${index}].words`, value: null, limit: 'why the item is not accepted' }]),
    ]),
    ...(left.length === 0 ? [] : [{ field: 'items', value: named, limit: `every item of the handover; left out: ${left.join(', ')}` }]),
  ];
}

/** Who accepts, who keyed that, and when. */
export interface Accepting {
  readonly doneBy: string;
  readonly keyedBy: string;
  readonly observedAt: string;
}

/**
 * Who accepts without being of the next crew is marked, and so is one person's hand in both papers: paper is keyed by who is
 * there, and nobody is refused for it. An acceptance from before the handover is asked about.
 */
export function acceptanceFindings(
  { doneBy, keyedBy, observedAt }: Accepting,
  handover: Pick<Handover, 'doneBy' | 'keyedBy' | 'observedAt'>,
  next: Pick<Shift, 'name' | 'observedAt' | 'until' | 'crew'> | null,
): Finding[] {
  const isOutside = next !== null && !isOn(doneBy, next);
  const isEarly = microseconds(observedAt) < microseconds(handover.observedAt);
  return [
    ...(isOutside ? [{ tier: 'noted', field: 'doneBy', value: doneBy, limit: `one of the crew of ${inWords(next)}` } as const] : []),
    ...(keyedBy === handover.doneBy ? [{ tier: 'noted', field: 'keyedBy', value: keyedBy, limit: 'keyed by another person than who gave the handover' } as const] : []),
    ...(handover.keyedBy === doneBy ? [{ tier: 'noted', field: 'handoverId', value: doneBy, limit: 'a handover that was keyed by another person than who accepts it' } as const] : []),
    ...(isEarly ? [{ tier: 'implausible', field: 'observedAt', value: observedAt, limit: `not before the handover was given, ${handover.observedAt}` } as const] : []),
  ];
}
