import type { Interval } from '#libs/intervals';

/** How readings are put together. */
export interface SubgroupPlan {
  /** Readings of one subgroup. */
  readonly size: number;
  /** The first and the last of a subgroup begin at most so far apart. */
  readonly withinMm: number;
  /** The first readings of two subgroups of one stretch begin at least so far apart. */
  readonly everyMm: number;
}

/** A place that no subgroup reaches across. */
export interface Boundary {
  /** What begins here is on its far side, mm. */
  readonly atMm: number;
  /** What people call it, as `splice S-2`. */
  readonly label: string;
}

/** Pipe whose readings are left out, and why. */
export interface Exclusion extends Interval {
  readonly because: string;
}

/** Throws RangeError unless the size is a whole number from 1 and both lengths are whole mm from 0. */
export function checkPlan({ size, withinMm, everyMm }: SubgroupPlan): void {
  if (!Number.isSafeInteger(size) || size < 1) throw new RangeError(`a subgroup has one reading or more, not ${size}`);
  for (const [name, mm] of Object.entries({ withinMm, everyMm })) {
    if (!Number.isSafeInteger(mm) || mm < 0) throw new RangeError(`${name} is not whole millimetres from 0 on: ${mm}`);
  }
}

/** Throws RangeError unless a window is whole mm from 1 on. */
export function checkWindow(windowMm: number): void {
  if (!Number.isSafeInteger(windowMm) || windowMm < 1) throw new RangeError(`a window is whole millimetres, 1 or more, not ${windowMm}`);
}

/** A length in m to the millimetre, as reasons say it. */
export const metres = (mm: number): string => `${(mm / 1000).toFixed(3)} m`;
