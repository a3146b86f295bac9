/**
 * Turning inside out swaps surfaces: what was the inner surface on the line becomes the rock side of the outer wall.
 * Without twist a point keeps its clock position, for a viewer looking down the hole, on both walls (downstream on the
 * line is down the hole); what does reverse is the hand of a bias splice. Source: geometry of an everted tube.
 */
import type { WallName } from './wall.js';

/** A surface of the pipe as it was formed on the line. */
export type FormedSurface = 'formed-inside' | 'formed-outside';

/** What a surface faces in the well. */
export type Facing = 'rock' | 'between the walls' | 'bore';

/** The way the viewer of a clock position looked. */
export type ViewingDirection = 'down-the-hole' | 'up-the-hole';

/** Hand of a bias splice seen on the formed outside of the pipe. */
export type SpliceHand = 'left' | 'right';

/** What a surface, named as formed on the line, faces on a wall. */
export function facingOf(surface: FormedSurface, wall: WallName): Facing {
  if (surface === 'formed-outside') return 'between the walls';
  return wall === 'outer' ? 'rock' : 'bore';
}

/**
 * A clock position (hours, 0 < h ≤ 12) as seen by a viewer looking down the hole: as recorded, or mirrored (12 − h)
 * when it was recorded looking up the hole. @throws RangeError for anything that is not on a clock
 */
export function clockHoursDownHole(hours: number, viewed: ViewingDirection): number {
  if (!(hours > 0 && hours <= 12)) throw new RangeError(`${hours} is not a clock position (0 < h ≤ 12)`);
  if (viewed === 'down-the-hole' || hours === 12) return hours;
  return 12 - hours;
}

/** The hand of a bias splice on a wall: reversed by the fold on the outer wall. */
export function spliceHandOn(wall: WallName, handOnLine: SpliceHand): SpliceHand {
  if (wall === 'inner') return handOnLine;
  return handOnLine === 'left' ? 'right' : 'left';
}
