import { STATUS } from '#libs/signals';

const { abs, fround, max, min } = Math;

/** What a channel says about its readings. Numbers are compared in the precision of the samples, as float32. */
export interface ReadingRules {
  /** What the device sends when it read nothing. */
  readonly missingValues: readonly number[];
  /** A reading at or above is a bound: the true value is at or above it. */
  readonly saturatesAtHigh: number | null;
  readonly saturatesAtLow: number | null;
  /** A reading below, or above `plausibleTo`, cannot be. */
  readonly plausibleFrom: number | null;
  readonly plausibleTo: number | null;
  /** So many identical readings in a row, at least 2, look stuck. */
  readonly stuckAfter: number | null;
}

export const NO_RULES: ReadingRules = {
  missingValues: [], saturatesAtHigh: null, saturatesAtLow: null, plausibleFrom: null, plausibleTo: null, stuckAfter: null,
};

/**
 * Gives each sample whose status is `read` the status that the rules say; any other status was said by the sender, and stands.
 * No value is changed. The first that applies counts:
 * 1. NaN, or equal as a number to one of the missing values (0 to −0 as well): missing;
 * 2. ±infinity, unless it is a missing value: implausible;
 * 3. at or beyond a value of saturation: saturated, also where that is not plausible, since it may be the worst;
 * 4. below or above what is plausible: implausible;
 * 5. one of at least `stuckAfter` consecutive samples that 1 to 4 leave as read and that are equal as numbers: suspect stuck.
 * A run is looked for within these samples alone: what came before them is not known here.
 */
export function applyRules(values: Float32Array, statuses: Uint8Array, rules: ReadingRules): void {
  const bounds: Bounds = {
    high: fround(rules.saturatesAtHigh ?? Infinity), low: fround(rules.saturatesAtLow ?? -Infinity),
    from: fround(rules.plausibleFrom ?? -Infinity), to: fround(rules.plausibleTo ?? Infinity),
  };
  const missingValues = rules.missingValues.map(fround);
  markBeyond(values, statuses, bounds, missingValues);
  for (const missing of missingValues) if (isWithin(missing, bounds)) markMissing(values, statuses, missing);
  if (rules.stuckAfter !== null) markStuck(values, statuses, rules.stuckAfter);
}

interface Bounds {
  readonly high: number;
  readonly low: number;
  readonly from: number;
  readonly to: number;
}

/** Neither saturated nor implausible; false for NaN and infinities too. */
const isWithin = (value: number, { high, low, from, to }: Bounds): boolean => value < high && value > low && value >= from && value <= to;

/** Everything but missing values within the bounds, and runs. */
function markBeyond(values: Float32Array, statuses: Uint8Array, bounds: Bounds, missingValues: readonly number[]): void {
  for (let index = firstBeyond(values, 0, bounds); index < values.length; index = firstBeyond(values, index + 1, bounds)) {
    const value = values[index] as number;
    if (isWithin(value, bounds) || statuses[index] !== STATUS.read) continue;
    if (Number.isNaN(value) || missingValues.includes(value)) statuses[index] = STATUS.missing;
    else if (abs(value) === Infinity) statuses[index] = STATUS.implausible;
    else if (value >= bounds.high) statuses[index] = STATUS.saturatedHigh;
    else if (value <= bounds.low) statuses[index] = STATUS.saturatedLow;
    else statuses[index] = STATUS.implausible;
  }
}

/**
 * The index, from `from` on, of the first value that does not lie well between the bounds; that of the end when all do. Nearly all do, and pass
 * this short loop: with what is said of the others in it, it takes nearly twice as long.
 */
function firstBeyond(values: Float32Array, from: number, bounds: Bounds): number {
  const above = max(bounds.low, bounds.from);
  const below = min(bounds.high, bounds.to);
  let index = from;
  while (index < values.length && (values[index] as number) > above && (values[index] as number) < below) index += 1;
  return index;
}

function markMissing(values: Float32Array, statuses: Uint8Array, missing: number): void {
  for (let index = 0; index < values.length; index += 1) {
    if (values[index] === missing && statuses[index] === STATUS.read) statuses[index] = STATUS.missing;
  }
}

function markStuck(values: Float32Array, statuses: Uint8Array, stuckAfter: number): void {
  let began = 0;
  for (let index = 1; index <= values.length; index += 1) {
    if (index < values.length && values[index] === values[began] && statuses[index] === statuses[began]) continue;
    if (index - began >= stuckAfter && statuses[began] === STATUS.read) statuses.fill(STATUS.suspectStuck, began, index);
    began = index;
  }
}
