import { interval, type Interval } from '#libs/intervals';
import { linkedGroups } from './apart.js';
import type { Indication } from './indication.js';
import { wholeFrom } from './rule.js';

/** A channel's part in an indication seen by several. */
export interface ChannelPart {
  readonly channel: string;
  readonly indication: Indication;
}

/** One indication, as wide as all its parts. */
export interface JointIndication<P extends ChannelPart = ChannelPart> extends Interval {
  /** In order of footage, then of the channel's name; a channel may have several. */
  readonly parts: readonly P[];
}

/**
 * One indication of those of several channels that share pipe or are nearer to each other than `combiningMm` (0: those that
 * share pipe), in order of footage. Each part stays what it is. Footage must be that of the pipe, not of the probes. The order
 * of `parts` plays no part. Throws RangeError unless the distance is a whole number from 0.
 */
export function combineChannels<P extends ChannelPart>(parts: readonly P[], combiningMm: number): readonly JointIndication<P>[] {
  wholeFrom(0, combiningMm, 'combiningMm');
  const placed = parts
    .map((part) => ({ fromMm: part.indication.fromMm, toMm: part.indication.toMm, part }))
    .sort((a, b) => (a.part.channel < b.part.channel ? -1 : Number(a.part.channel > b.part.channel)));
  return linkedGroups(placed, combiningMm).map(({ fromMm, toMm, members }) => ({ ...interval(fromMm, toMm), parts: members.map(({ part }) => part) }));
}
