import { compare, type Ratio } from '#libs/exact';

/** A stretch of values, ends included unless open. An end that is null is not there: the stretch goes on without end. */
export interface Zone {
  readonly low: Ratio | null;
  readonly high: Ratio | null;
  readonly lowOpen: boolean;
  readonly highOpen: boolean;
}

/** The values from `low` to `high`, both included. */
export function closedZone(low: Ratio | null, high: Ratio | null): Zone {
  return { low, high, lowOpen: false, highOpen: false };
}

/** Whether no value at all lies in the zone. */
export function isEmpty({ low, high, lowOpen, highOpen }: Zone): boolean {
  if (low === null || high === null) return false;
  const order = compare(low, high);
  return order > 0 || (order === 0 && (lowOpen || highOpen));
}

/** Whether every value of `inner`, which is not empty, lies in `outer`. */
export function isWithin(inner: Zone, outer: Zone): boolean {
  return startsWithin(inner, outer) && endsWithin(inner, outer);
}

/** Whether no value of `a` lies in `b`. */
export function isApart(a: Zone, b: Zone): boolean {
  return isEmpty(b) || isBelow(a, b) || isBelow(b, a);
}

function startsWithin(inner: Zone, outer: Zone): boolean {
  if (outer.low === null) return true;
  if (inner.low === null) return false;
  const order = compare(inner.low, outer.low);
  return order > 0 || (order === 0 && (inner.lowOpen || !outer.lowOpen));
}

function endsWithin(inner: Zone, outer: Zone): boolean {
  if (outer.high === null) return true;
  if (inner.high === null) return false;
  const order = compare(inner.high, outer.high);
  return order < 0 || (order === 0 && (inner.highOpen || !outer.highOpen));
}

function isBelow(a: Zone, b: Zone): boolean {
  if (a.high === null || b.low === null) return false;
  const order = compare(a.high, b.low);
  return order < 0 || (order === 0 && (a.highOpen || b.lowOpen));
}
