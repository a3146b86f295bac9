/** A place and what the function is there. */
interface Point {
  readonly x: number;
  readonly f: number;
}

/**
 * Where `f` crosses 0 between two places at which its signs differ, to the last digits of a double. It interpolates by the
 * inverse quadratic where that is safe and halves the bracket otherwise, so that it always ends: Chandrupatla, Advances in
 * Engineering Software 28 (1997), 145-149, from memory. A zero at an end is that end. Throws RangeError when the signs do not
 * differ.
 */
export function bracketedRoot(f: (x: number) => number, from: number, to: number): number {
  const at = (x: number): Point => ({ x, f: f(x) });
  let [newest, other] = [at(to), at(from)];
  if (other.f === 0) return from;
  if (newest.f === 0) return to;
  if (!(newest.f * other.f < 0)) throw new RangeError(`no change of sign between ${from} and ${to}`);
  let share = 0.5;
  for (;;) {
    const next = at(newest.x + share * (other.x - newest.x));
    const isSameSide = Math.sign(next.f) === Math.sign(newest.f);
    const left = isSameSide ? newest : other;
    if (!isSameSide) other = newest;
    newest = next;
    const best = Math.abs(newest.f) < Math.abs(other.f) ? newest : other;
    const least = (2 * Number.EPSILON * Math.abs(best.x) + Number.MIN_VALUE) / Math.abs(other.x - newest.x);
    if (best.f === 0 || !(least <= 0.5)) return best.x;
    share = Math.min(1 - least, Math.max(least, interpolated(newest, other, left)));
  }
}

/** How far from the newest point towards the other end of the bracket the root is presumed, as a share. */
function interpolated(newest: Point, other: Point, left: Point): number {
  const [a, b, c] = [newest, other, left];
  const xi = (a.x - b.x) / (c.x - b.x);
  const phi = (a.f - b.f) / (c.f - b.f);
  if (!(phi * phi < xi && (1 - phi) ** 2 < 1 - xi)) return 0.5;
  const share = (a.f / (b.f - a.f)) * (c.f / (b.f - c.f)) + ((c.x - a.x) / (b.x - a.x)) * (a.f / (c.f - a.f)) * (b.f / (c.f - b.f));
  return Number.isFinite(share) ? share : 0.5;
}
