/**
 * Where `f` crosses 0 between two places at which its signs differ, by halving the bracket until no double lies between its
 * ends. It needs no more than the sign of `f`, and lands on the same digits whatever the shape of `f`. A zero at an end is
 * that end. Throws RangeError when the signs do not differ.
 */
export function bracketedRoot(f: (x: number) => number, from: number, to: number): number {
  const [atFrom, atTo] = [f(from), f(to)];
  if (atFrom === 0) return from;
  if (atTo === 0) return to;
  if (!(atFrom * atTo < 0)) throw new RangeError(`no change of sign between ${from} and ${to}`);
  let [low, high] = atFrom < 0 ? [from, to] : [to, from];
  for (;;) {
    const middle = low + (high - low) / 2;
    if (middle === low || middle === high) return middle;
    if (f(middle) < 0) low = middle;
    else high = middle;
  }
}
