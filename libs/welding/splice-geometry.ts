/**
 * A straight weld across a strip at an angle to its edge, and where it comes to lie on the pipe. Source: geometry. The strip
 * is taken to keep its length in forming.
 */
import type { Interval } from '#libs/intervals';
import type { SpliceHand } from '#libs/length';

const SQUARE_DEG = 90;

export interface SpliceGeometry {
  /** Length of the weld, w / sin α. */
  readonly weldLengthMm: number;
  /** Pipe from one end of the weld to the other, w / tan α; 0 at 90°. The weld's width, its heat-affected zone and planishing come on top. */
  readonly pipeLengthMm: number;
}

/**
 * Lengths of a weld at `angleDeg` to the edge of a strip `widthMm` wide, not rounded.
 * Throws RangeError unless the width is over 0 and the angle over 0° and at most 90°.
 */
export function spliceGeometry(widthMm: number, angleDeg: number): SpliceGeometry {
  if (!(widthMm > 0 && Number.isFinite(widthMm))) throw new RangeError(`strip width must be over 0 mm: ${widthMm}`);
  if (!(angleDeg > 0 && angleDeg <= SQUARE_DEG)) throw new RangeError(`splice angle must be over 0° and at most 90°: ${angleDeg}`);
  // The tangent of 90° is no double.
  if (angleDeg === SQUARE_DEG) return { weldLengthMm: widthMm, pipeLengthMm: 0 };
  const angle = (angleDeg * Math.PI) / 180;
  return { weldLengthMm: widthMm / Math.sin(angle), pipeLengthMm: widthMm / Math.tan(angle) };
}

/** An edge of the strip, seen on the surface that becomes the outside of the pipe, looking downstream (towards the lead end). */
export type SeenEdge = 'left' | 'right';

/** Where an end of the splice meets the seam. */
export interface SeamJunction {
  readonly footageMm: number;
  readonly edge: SeenEdge;
}

/**
 * The two T-junctions of a splice with the seam: one at either end of its interval of footage, on opposite edges of the
 * strip; the downstream one, with the lower footage, first. The two of a square splice face each other at one footage, which
 * is taken to be where its interval begins.
 *
 * The weld runs once around the pipe, from the seam back to it. Its hand, seen on the formed outside, is that of a screw: a
 * right-hand splice climbs to the right whichever end of the pipe is up. With downstream up, its right end lies downstream.
 */
export function seamJunctions({ fromMm, toMm }: Interval, hand: SpliceHand | 'square'): readonly [SeamJunction, SeamJunction] {
  const [first, second]: readonly [SeenEdge, SeenEdge] = hand === 'right' ? ['right', 'left'] : ['left', 'right'];
  return [{ footageMm: fromMm, edge: first }, { footageMm: hand === 'square' ? fromMm : toMm, edge: second }];
}
