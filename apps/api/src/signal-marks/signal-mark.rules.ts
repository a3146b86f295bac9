import type { FieldProblem } from '../http/problem.js';
import { doubleIds } from '../inspection-runs/inspection-run.rules.js';
import { intervalFaults } from '../line/given-place.js';
import type { SignalMarkInput } from './signal-mark.dto.js';

type Said = Pick<SignalMarkInput, 'from' | 'to' | 'channelIds' | 'cause' | 'note'>;

/** What does not go together in a mark: its place, a channel twice, and another cause that nobody says in words. */
export function markFaults({ from, to, channelIds, cause, note }: Said): FieldProblem[] {
  return [
    ...intervalFaults({ from, to: to ?? null }), ...doubleIds('channelIds', channelIds),
    ...(cause === 'other' && note == null ? [{ field: 'note', value: null, limit: 'the cause in words, where it is another one' }] : []),
  ];
}
