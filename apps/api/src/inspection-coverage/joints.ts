import { interval, IntervalSet, type Interval } from '#libs/intervals';
import type { PiecewiseLinearMap } from '#libs/length';

/** Where something joins the pipe: the pipe of a splice, or the place where a piece was cut out. */
export interface Joint {
  readonly span: Interval;
  readonly kind: 'splice' | 're-join';
}

/**
 * A joint with `marginMm` of standing pipe to each side, as footage of pipe that stands: where pipe was cut out beside it, the
 * margin goes on beyond. Empty where all of a splice was cut out, or where a re-join joins nothing: the lead end was cut there.
 * @param net footage to net length, with all cut-outs @param cutOut the same cut-outs
 */
export function zoneOf({ span, kind }: Joint, marginMm: number, net: PiecewiseLinearMap, cutOut: IntervalSet): IntervalSet {
  const [fromNet, toNet] = [net.at(span.fromMm), net.at(span.toMm)];
  if (kind === 'splice' ? fromNet === toNet : fromNet === 0) return IntervalSet.empty;
  // The weld of a re-join has no length of its own: a millimetre to each side at least, as of `jointOf`.
  const margin = kind === 'splice' ? marginMm : Math.max(marginMm, 1);
  const [low, high] = [Math.max(0, fromNet - margin), toNet + margin];
  return IntervalSet.of(interval(net.upperInverseAt(low), net.upperInverseAt(high))).subtract(cutOut);
}
