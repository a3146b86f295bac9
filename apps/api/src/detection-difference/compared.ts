import { CHANGES, differenceOf, matchEvaluated, type Difference } from '#libs/indications';
import type { Interval } from '#libs/intervals';
import type { FoundPartAnswer } from '../detections/detection.dto.js';
import type { ChangeCountAnswer } from './detection-difference.dto.js';

/** What one side found at a place, with its channels by their ids. */
export interface SidePlace extends Interval {
  readonly parts: readonly FoundPartAnswer[];
}

/** What one side found. */
export interface Side {
  /** Each channel has its own indications; else one may be of several. */
  readonly isApart: boolean;
  readonly found: readonly SidePlace[];
}

/**
 * Place by place, in order of footage. Channels are compared each by itself where both sides keep them apart: else the same
 * footage of two channels would be one place.
 */
export function compared(before: Side, after: Side): Difference<SidePlace>[] {
  const channelsOf = ({ found }: Side): string[] => found.map(channelOf);
  const groups = before.isApart && after.isApart ? [...new Set([...channelsOf(before), ...channelsOf(after)])].sort() : [null];
  const own = ({ found }: Side, channel: string | null): SidePlace[] => found.filter((place) => channel === null || channelOf(place) === channel);
  return groups.flatMap((channel) => differenceOf(own(before, channel), own(after, channel))).sort((one, other) => startOf(one) - startOf(other));
}

const channelOf = ({ parts }: SidePlace): string => parts[0]?.channelId ?? '';
const placesOf = ({ before, after }: Difference<SidePlace>): SidePlace[] => [...before, ...after];
const startOf = (one: Difference<SidePlace>): number => Math.min(...placesOf(one).map(({ fromMm }) => fromMm));

/** How many places changed how, in the order of the words; those that are none are left out. */
export function counted(differences: readonly Difference<SidePlace>[]): ChangeCountAnswer[] {
  return CHANGES.map((change) => ({ change, places: differences.filter((one) => one.change === change).length })).filter(({ places }) => places > 0);
}

/** An evaluated indication as it is matched. */
export interface EvaluatedPlace extends Interval {
  readonly channelIds: readonly string[];
}

/** Which evaluated indications each place has on its pipe, of its channels; and those that no place has. */
export function evaluatedOf<E extends EvaluatedPlace>(differences: readonly Difference<SidePlace>[], evaluated: readonly E[]): { readonly there: readonly (readonly E[])[]; readonly notFound: readonly E[] } {
  const there = differences.map((one) => {
    const channels = new Set(placesOf(one).flatMap(({ parts }) => parts.map(({ channelId }) => channelId)));
    const near = evaluated.filter(({ channelIds }) => channelIds.some((id) => channels.has(id)));
    return matchEvaluated(near, placesOf(one), 0).evaluated.filter(({ found }) => found.length > 0).map((match) => match.evaluated);
  });
  const found = new Set(there.flat());
  return { there, notFound: evaluated.filter((one) => !found.has(one)) };
}
